"""What the rules of release say of each surface: retired, held, a part in it, strip, coats, count, cure, film."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property

from tooling.calc.entry import part_key
from tooling.calc.state import State
from tooling.calc.status import Status, status_of
from tooling.models import Tool
from tooling.selectors.holds import HoldSaid, said, said_with_pictures
from tooling.selectors.release import Surface
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import HAND, LEAD, Reason
from tooling.words.deeds import COATS, FILM, LOOK, PULLED, RECIPE, REINSTATE, STRIP, Deed
from tooling.words.reasons import mend
from tooling.words.status import sentence
from tooling.words.usable import part_count
from tooling.words.when import when, whole_minute

# The deed that mends each state; others mend by waiting, or a lead decides.
MENDS: dict[str, Deed] = {
    "retired": REINSTATE,
    "held": LOOK,
    "part_in_mold": PULLED,
    "needs_strip": STRIP,
    "not_prepared": COATS,
    "preparing": COATS,
    "needs_touch_up": COATS,
    "needs_film": FILM,
}
USABLE = frozenset({"ready", "last_pull"})
WITH_A_FILM = frozenset({"needs_film", "film_drying"})
OF_A_LEAD = frozenset({"held", "retired"})
# The states that a coat mends: a part's own number can be what brings them about.
_BY_COUNT = frozenset({"needs_touch_up", "needs_strip"})


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Every surface that is not ready, and what stands behind a hold; a part in a mold is in its inserts as well."""
    holds = _Holds(asked)
    for tool in asked.tools:
        found = asked.surfaces.get(tool.pk, [])
        for place, surface in enumerate(found or [_without_surface(asked, tool)]):
            for status in _in_turn(asked, surface):
                if place and status.status == "part_in_mold" and found[0].state.part is not None:
                    continue
                yield tool.pk, _reason(asked, surface, status, holds)


def _in_turn(asked: Asked, surface: Surface) -> Iterator[Status]:
    """The states that stop it: where it is held, also what will stop it when it is freed."""
    fine = USABLE | (WITH_A_FILM if asked.film else frozenset())
    status = surface.status
    if status.status not in fine:
        yield status
    if status.status == "held" and surface.tool.has_surface:
        freed = _status(asked, replace(surface.state, holds={}), surface.tool, asked.part)
        if freed.status not in fine:
            yield freed


def _status(asked: Asked, state: State, tool: Tool, part: str) -> Status:
    return status_of(state, tool.pk, asked.read.book, asked.shop.zone, asked.at, part)


def _reason(asked: Asked, surface: Surface, status: Status, holds: "_Holds") -> Reason:
    tool, zone = surface.tool, asked.shop.zone
    recipe = asked.recipe_of(surface)
    family = recipe.family if recipe is not None else "other"
    until = when(whole_minute(status.ready_at), asked.at, zone) if status.ready_at is not None else ""
    number = _own_number(asked, surface, status)
    note = holds.note(tool) if status.status == "held" else ""
    return Reason(
        code=status.status if number is None else "part_count",
        tool=tool.code,
        text=str(sentence(status, family=family, now=asked.at, zone=zone, kind=tool.kind, held=note))
        if number is None
        else part_count(asked.part, number),
        mend=mend(status.status, status.why, status.need, until),
        deed=RECIPE if "no_release_system" in status.why else MENDS.get(status.status),
        override=LEAD if status.status in OF_A_LEAD else HAND,
        mark=status.status,
        holds=holds.of(tool) if status.status == "held" else (),
    )


def _own_number(asked: Asked, surface: Surface, status: Status) -> int | None:
    """The part's own number of pulls on this surface, where that alone is what is done."""
    number = surface.state.part_n.get(part_key(asked.part)) if surface.state.part_n and asked.part else None
    if number is None or status.status not in _BY_COUNT:
        return None
    state = replace(surface.state, holds={})
    return None if _status(asked, state, surface.tool, "").status in _BY_COUNT else number


def _without_surface(asked: Asked, tool: Tool) -> Surface:
    """A trim mask is only ever held, retired or neither."""
    state = asked.read.states[tool.pk]
    own = status_of(state, tool.pk, asked.read.book, asked.shop.zone, asked.at)
    fine = own if own.status in OF_A_LEAD else replace(own, status="ready")
    return Surface(tool, state, fine)


class _Holds:
    """What holds each tool, in words; and in pictures, where somebody stands before it."""

    def __init__(self, asked: Asked) -> None:
        self.asked = asked

    @cached_property
    def _said(self) -> dict[int, list[HoldSaid]]:
        asked = self.asked
        here = {tool.pk for _key, tool in asked.together()}
        found = {key: holds for key, holds in asked.read.holds.items() if key in here}
        say = said if asked.gathering else said_with_pictures
        return say(found, asked.at, asked.shop.zone)

    def of(self, tool: Tool) -> tuple[HoldSaid, ...]:
        return tuple(self._said.get(tool.pk, ()))

    def note(self, tool: Tool) -> str:
        """What was said with the first of them; where they are not read, as its row has it."""
        first = next((one.entry.payload for one in self.of(tool)), {})
        return str(first.get("reason") or first.get("note") or self.asked.read.summaries[tool.pk].held_note)
