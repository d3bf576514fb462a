"""Made-up histories that the rules accept: late entries, corrections, voids, borrowed inserts, odd and right deeds.

`made(Random(seed), count)` gives a long one from a plain random source; `histories()` is the same as a strategy of
hypothesis. Both give a `History`, whose `deeds` are plain dictionaries in recording order (see `replay.Deed`): what
they say can be done again through any other way into the program.
"""

from datetime import datetime, timedelta
from random import Random
from typing import Any

from hypothesis import strategies as st

from tests.tooling.calc.advice import asked_for, deed
from tests.tooling.calc.gate import refusal
from tests.tooling.calc.made_shops import ACCEPTED, CHANGES, INSERTS, MOLDS, OWN, STRANGE, local, made_shop
from tests.tooling.calc.replay import Board, Deed, History, entry_of
from tooling.calc.entry import AREAS, CAME_OFF, CAUSES, PREPARED
from tooling.calc.spans import day_begins
from tooling.calc.status import Status

PEOPLE = ("Ada", "Bo", "Cleo", None)
PARTS = ("", "P-1", "p-1", "P-2")
_INSTANT = timedelta(microseconds=1)

# Each name stands as often as it should happen.
_USES = (*("pull",) * 6, *("lay_up",) * 4, "lay_up_done", "abandoned")
_WORK = (
    *("coat",) * 6, *("sealer", "film", "strip") * 2, "repair", "polish", "resurfaced", "clean",
)  # fmt: skip
_SEEN = ("build_up", "release_check", "release_check", "wax_wanted", "inspected", "inspected", "hold")
_RARE = (
    "interval",
    "interval",
    "release_system",
    "starting_state",
    "starting_state",
    "retired",
    "retired",
    "reinstated",
    "note",
)
_STAY = ("installed", "installed", "removed")


def made(rng: Random, count: int, distinct: bool = False) -> History:
    """A history of `count` deeds after those that open the shop; with `distinct`, no two deeds of one instant."""
    zone, day = rng.choice(CHANGES)
    start = local(zone, day - timedelta(days=rng.randint(1, 40)), 9)
    author = _Author(rng, History(made_shop(rng, zone, start), []), start, distinct)
    author.open_shop()
    for _ in range(count):
        author.write()
    return author.history


@st.composite
def histories(draw: st.DrawFn, least: int = 1, most: int = 36, distinct: bool = False) -> History:
    """Histories of `least` to `most` deeds after those that open the shop."""
    count = draw(st.integers(least, most))
    return made(draw(st.randoms(use_true_random=False)), count, distinct)


class _Author:
    """Writes a history deed by deed, as a shop would: mostly right, often late, at times wrong."""

    def __init__(self, rng: Random, history: History, start: datetime, distinct: bool) -> None:
        self.rng = rng
        self.history = history
        self.shop = history.shop
        self.now = start
        self.distinct = distinct
        care = rng.choice((1, 4, 12))
        self.ways = (self._as_asked,) * care + (self._anything,) * 3 + (self._late, self._correction, self._void)

    def open_shop(self) -> None:
        """Puts the inserts in and, in most shops, makes the mold ready with them."""
        self._accept(deed(MOLDS[0], "note", self.now, note="the record begins"))
        for tool in INSERTS[: self.rng.choice((2, 2, 1, 0))]:
            self._accept(deed(tool, "installed", self.now, mold=MOLDS[0]))
        for _ in range(self.rng.choice((0, 20, 20))):
            when, asked = asked_for(self._status(MOLDS[0]), self.now, OWN)
            if when == self.now and asked is None:
                break
            self.now = when + timedelta(minutes=1)
            if asked:
                self._accept({**asked, "at": self.now})

    def write(self) -> None:
        """One more deed that is accepted."""
        self._let_time_pass()
        while not self._accept(self.rng.choice(self.ways)()):
            pass

    def _accept(self, made: Deed) -> bool:
        deeds = self.history.deeds
        while self.distinct and any(made["at"] == one["at"] for one in deeds):
            made["at"] += _INSTANT
        made["recorded_at"] = max([self.now, *(one["recorded_at"] for one in deeds[-1:])])
        entries = [entry_of(one, place) for place, one in enumerate(deeds)]
        if refusal(self.shop, entries, entry_of(made, len(deeds)), made["recorded_at"]):
            return False
        deeds.append(made)
        return True

    def _let_time_pass(self) -> None:
        rng = self.rng
        steps = (("minutes", 0), ("minutes", 90), ("minutes", 90), ("hours", 30), ("hours", 30), ("days", 6))
        unit, most = rng.choice(steps)
        self.now += timedelta(**{unit: rng.randint(0, most)})
        if rng.randint(0, 19) == 0:
            self.now += timedelta(days=rng.randint(0, 40))
        elif rng.randint(0, 9) == 0:
            day = self.now.astimezone(self.shop.zone).date() + timedelta(days=1)
            self.now = day_begins(day, self.shop.zone) - rng.choice((_INSTANT, 0 * _INSTANT))

    def _as_asked(self) -> Deed:
        """What the board asks for, at times half of it or with another coat; where it asks for nothing, a use."""
        mold = self.rng.choice((MOLDS[0],) * 5 + MOLDS[1:])
        when, asked = asked_for(self._status(mold), self.now, OWN)
        if self.rng.randint(0, 4):
            self.now = max(self.now, when)
        if asked is None:
            return some_deed(
                self.rng, mold, self.rng.choice(("pull", "pull", "pull", "lay_up", "lay_up", "coat")), self.now
            )
        if asked["kind"] == "coat" and self.rng.randint(0, 2) == 0:
            asked["fields"]["count"] = 1
        if asked["kind"] == "coat" and self.rng.randint(0, 5) == 0:
            asked["fields"]["release_system"] = ACCEPTED
        asked["by"] = self.rng.choice(PEOPLE)
        return asked

    def _status(self, mold: str) -> Status:
        entries = [entry_of(one, place) for place, one in enumerate(self.history.deeds)]
        return Board(self.shop, entries).status(mold, self.now)

    def _anything(self) -> Deed:
        """Any deed, now or (as clocks go) a little ahead."""
        ahead = self.rng.choice((0, 0, 0, 0, 0, 0, 0, 5))
        return some_deed(self.rng, *self._tool_and_kind(), self.now + timedelta(minutes=ahead))

    def _late(self) -> Deed:
        """A deed that is recorded only now."""
        return some_deed(self.rng, *self._tool_and_kind(), self._past())

    def _correction(self) -> Deed:
        """Something recorded before, said anew: at the same time or at another."""
        place = self._place()
        old = self.history.deeds[place]
        at = self.rng.choice((old["at"], self._past()))
        kind = "note" if old["kind"] == "void" else old["kind"]  # a void cannot be replaced: refused, and tried again
        return {**some_deed(self.rng, old["tool"], kind, at), "replaces": place}

    def _void(self) -> Deed:
        place = self._place()
        return {**deed(self.history.deeds[place]["tool"], "void", self.now, self.rng.choice(PEOPLE)), "voids": place}

    def _place(self) -> int:
        """Where in the list some deed stands; one of the latest as often as any."""
        last = len(self.history.deeds) - 1
        return self.rng.choice((self.rng.randint(0, last), max(0, last - self.rng.randint(0, 3))))

    def _past(self) -> datetime:
        """Some moment gone by; often that of another deed, or next to it."""
        rng, deeds = self.rng, self.history.deeds
        at = rng.choice(deeds)["at"]
        at -= rng.choice((timedelta(0), timedelta(0), _INSTANT, -_INSTANT, timedelta(minutes=rng.randint(0, 3000))))
        return min(at, self.now)

    def _tool_and_kind(self) -> tuple[str, str]:
        tool = self.rng.choice((MOLDS[0], MOLDS[0], MOLDS[0], MOLDS[1], *INSERTS))
        ways = (_WORK, _SEEN, _RARE, _STAY if tool in INSERTS else _USES)
        return tool, self.rng.choice(self.rng.choice((*ways, ways[-1])))


def some_deed(rng: Random, tool: str, kind: str, at: datetime) -> Deed:
    """A deed of a kind, its fields and its hand left to chance; whether it is accepted is not asked."""
    given = _GIVEN.get(kind)
    return deed(tool, kind, at, rng.choice(PEOPLE), **(given(rng, at, tool) if given else {}))


def _area(rng: Random) -> dict[str, Any]:
    return {"area": rng.choice(("whole", "whole", "whole", *AREAS))}


def _pull(rng: Random, at: datetime, tool: str) -> dict[str, Any]:
    return {
        "count": rng.choice((1, 1, 1, 1, 2, 4)),
        "came_off": rng.choice(("",) * 5 + ("free",) * 10 + CAME_OFF),
        "film": rng.choice((None, None, True, False)),
        "part": rng.choice(PARTS),
        "cause": rng.choice(("", "", *CAUSES)),
        "tool_damaged": rng.randint(0, 30) == 0,
        "surface": rng.choice((None, None, None, tool, *INSERTS)),
    }


def _soon(rng: Random, at: datetime) -> datetime | None:
    return rng.choice((None, at, at + timedelta(minutes=rng.randint(0, 1500))))


def _lay_up(rng: Random, at: datetime, tool: str) -> dict[str, Any]:
    return {
        "part": rng.choice(PARTS), "serial": rng.choice(("", "S-7")), "film": rng.choice((None, None, True, False)),
        "earliest_pull": _soon(rng, at),
    }  # fmt: skip


def _coat(rng: Random, at: datetime, tool: str) -> dict[str, Any]:
    system = rng.choice(("", "", "", "", "", "", OWN, ACCEPTED, ACCEPTED, STRANGE))
    return {"count": rng.choice((1, 1, 1, 2, 3)), "release_system": system, **_area(rng)}


def _interval(rng: Random, at: datetime, tool: str) -> dict[str, Any]:
    return {"count": rng.choice((None, 1, 1, 2, 3, 6)), "part": rng.choice(PARTS)}


def _starting_state(rng: Random, at: datetime, tool: str) -> dict[str, Any]:
    return {
        "prepared": rng.choice((*PREPARED, "unknown")), "pulls_since_coat": rng.choice((None, 0, 1, 3)),
        "touch_ups": rng.choice((None, 0, 2)), "total_pulls": rng.choice((None, 0, 12)),
    }  # fmt: skip


# The fields of each kind that has any: given the source of chance, the time and the tool.
_GIVEN = {
    "pull": _pull,
    "lay_up": _lay_up,
    "lay_up_done": lambda rng, at, tool: {"earliest_pull": _soon(rng, at)},
    "coat": _coat,
    "sealer": lambda rng, at, tool: {"count": rng.choice((1, 1, 2)), **_area(rng)},
    "strip": lambda rng, at, tool: _area(rng),
    "repair": lambda rng, at, tool: _area(rng),
    "polish": lambda rng, at, tool: _area(rng),
    "release_check": lambda rng, at, tool: {"passed": rng.choice((True, True, False))},
    "inspected": lambda rng, at, tool: {"passed": rng.choice((True, True, True, False))},
    "interval": _interval,
    "release_system": lambda rng, at, tool: {"release_system": rng.choice((OWN, OWN, ACCEPTED))},
    "starting_state": _starting_state,
    "installed": lambda rng, at, tool: {"mold": rng.choice(MOLDS)},
    "note": lambda rng, at, tool: {"note": "seen, nothing done"},
}
