"""What is refused at entry, over a whole made-up shop: no deed that the program would refuse is ever made up."""

from collections.abc import Sequence
from datetime import datetime

from tests.tooling.calc.replay import Shop
from tooling.calc.check import (
    Refusal,
    check_alone,
    check_one_start,
    check_other_system,
    check_surface,
    check_target,
)
from tooling.calc.entry import Entry
from tooling.calc.membership import TwoMolds, reached, stays, uses
from tooling.calc.order import Placed, effective


def refusal(shop: Shop, entries: Sequence[Entry], entry: Entry, now: datetime) -> str:
    """The rule by which `entry` is refused after `entries`; "" where it is taken."""
    log = [one for one in entries if one.tool == entry.tool]
    placed = effective([*log, entry])
    try:
        check_alone(entry, now)
        number = entry.voids or entry.replaces
        if number is not None:
            check_target(entry, next((one for one in entries if one.id == number), None), log)
        check_one_start(entry, [one for _, _, one in effective(log)])
        for system in _in_force(shop, placed, entry):
            check_other_system(entry, system)
        check_surface(entry, _reaches(shop, entries, placed, entry))
        if entry.tool in shop.inserts:
            stays(placed)
    except Refusal as refused:
        return refused.code
    except TwoMolds:
        return "two_molds"
    return ""


def _in_force(shop: Shop, placed: Sequence[Placed], entry: Entry) -> set[str | None]:
    """The recipe in force just before an entry.

    Before a starting state stands a change of recipe that does nothing: there both readings count, that of the
    change and that of the start.
    """
    system = start = shop.systems[str(entry.tool)]
    place = next((at for at, one in enumerate(placed) if one[2] is entry), len(placed))
    for _, _, one in placed[:place]:
        if one.kind == "release_system":
            system = one.release_system
        elif one.kind == "starting_state":
            system = start
    later = any(one.kind == "starting_state" for _, _, one in placed[place:])
    return {system, start} if later else {system}


def _reaches(shop: Shop, entries: Sequence[Entry], placed: Sequence[Placed], entry: Entry) -> list[str]:
    if entry.surface is None:
        return []
    instants = next((use.instants for use in uses(placed) if use.placed[2] is entry), ())
    logs = {tool: [one for one in entries if one.tool == tool] for tool in shop.inserts}
    return [tool for tool, log in logs.items() if reached(stays(effective(log)), entry.tool, instants)]
