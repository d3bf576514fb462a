"""Deeds that the rules refuse, by the rule that refuses them."""

from collections.abc import Callable
from datetime import timedelta
from random import Random

from tests.tooling.calc.advice import deed
from tests.tooling.calc.made_shops import INSERTS, MOLDS, OWN
from tests.tooling.calc.replay import Deed, History

Maker = Callable[[Random, History], Deed]


def _of(kind: str, **fields: object) -> Maker:
    return lambda rng, history: deed(rng.choice(MOLDS), kind, history.end, **fields)


def _no_zone(rng: Random, history: History) -> Deed:
    return {**deed(MOLDS[0], "coat", history.end), "at": history.end.replace(tzinfo=None)}


def _future(rng: Random, history: History) -> Deed:
    ahead = timedelta(minutes=5, microseconds=rng.choice((1, 10**9)))
    return {**deed(MOLDS[0], "coat", history.end), "at": history.end + ahead}


def _aimed(way: str, kinds: Callable[[str], bool], same_tool: bool, gone: bool) -> Maker:
    """A void or correction of a deed that is not there to be taken back."""

    def make(rng: Random, history: History) -> Deed:
        taken = {place for one in history.deeds for place in (one["voids"], one["replaces"])}
        places = [p for p, one in enumerate(history.deeds) if kinds(one["kind"]) and (p in taken) == gone]
        if not places:
            return deed(MOLDS[0], "void", history.end)
        place = rng.choice(places)
        tool = history.deeds[place]["tool"]
        if not same_tool:
            tool = next(code for code in (*MOLDS, *INSERTS) if code != tool)
        return {**deed(tool, "void" if way == "voids" else "note", history.end), way: place}

    return make


def _again(kind: str, **fields: object) -> Maker:
    """The same once more, where one stands already."""
    return lambda rng, history: deed(rng.choice((*MOLDS, *INSERTS)), kind, history.end, **fields)


def _installed(rng: Random, history: History) -> Deed:
    at = rng.choice(history.moments)
    return {**deed(rng.choice(INSERTS), "installed", at, mold=rng.choice(MOLDS)), "recorded_at": history.end}


REFUSED: dict[str, Maker] = {
    "unknown_kind": _of("dance"),
    "no_zone": _no_zone,
    "future": _future,
    "count_range": lambda rng, history: deed(MOLDS[0], "pull", history.end, count=rng.choice((0, 501))),
    "unknown_word": lambda rng, history: deed(
        MOLDS[0], "pull", history.end, **{rng.choice(("came_off", "cause", "area")): "moon"}
    ),
    "came_off_on_other": _of("coat", came_off="free"),
    "passed_missing": _of("inspected"),
    "below_zero": _of("starting_state", prepared="yes", touch_ups=-1),
    "target_missing": _of("void"),
    "target_of_other_tool": _aimed("voids", lambda kind: kind != "void", same_tool=False, gone=False),
    "target_is_void": _aimed("replaces", lambda kind: kind == "void", same_tool=True, gone=False),
    "target_gone": _aimed("voids", lambda kind: kind != "void", same_tool=True, gone=True),
    "second_start": _again("starting_state", prepared="no"),
    "surface_not_reached": lambda rng, history: deed(
        MOLDS[0], "pull", history.end, came_off="tight", surface=rng.choice((*INSERTS, MOLDS[1]))
    ),
    "same_system": _again("release_system", release_system=OWN),
    "two_molds": _installed,
}

# What shows from the deed alone needs no second opinion; of the others the pure rules decide whether they are refused.
ALONE = frozenset(
    {"unknown_kind", "no_zone", "future", "count_range", "unknown_word", "came_off_on_other", "passed_missing",
     "below_zero", "target_missing"}
)  # fmt: skip


def refused_deed(rng: Random, history: History) -> tuple[str, Deed]:
    """A deed to try, and the rule that it is made for."""
    name = rng.choice(tuple(REFUSED))
    return name, REFUSED[name](rng, history)
