"""The everyday course of every tool: waxed, laid up, pulled, now and then tight, stuck, chipped or written twice."""

import heapq
from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import count, islice
from random import Random
from typing import Any, NamedTuple

from bench.synth.catalogue import Plan, Works
from tooling.models import Kind

CAME_OFF = ("free", "light", "tight", "stuck", "")
CAME_OFF_WEIGHTS = (70, 15, 4, 1, 10)
HOUR = timedelta(hours=1)


class Deed(NamedTuple):
    """One entry to write: when, on which tool (its place), what, and what it says by the names of a deed."""

    at: datetime
    tool: int
    kind: str
    said: dict[str, Any]


def histories(works: Works, plans: Iterator[Plan], seed: int) -> Iterator[Deed]:
    """The entries of the whole shop in the order in which they were written down."""
    return heapq.merge(*(_history(works, plan, seed) for plan in plans), key=lambda deed: deed[:2])


def _history(works: Works, plan: Plan, seed: int) -> Iterator[Deed]:
    # How long it takes is only known when it has been told once; the second telling ends on the last day.
    zero = plan.last
    took = timedelta()
    for deed in Course(works, plan.tool, seed, zero).told(plan):
        took = deed.at - zero
    yield from Course(works, plan.tool, seed, plan.last - took).told(plan)


class Course:
    """One tool's course, with the mold inserts in it."""

    def __init__(self, works: Works, tool: int, seed: int, start: datetime) -> None:
        self.tool, self.inserts, self.now = tool, works.inserts.get(tool, []), start
        self.kind = works.tools[tool].kind
        system = works.tools[tool].release_system
        self.recipe = works.rules.book.at(system.code, start) if system is not None else None
        self.rng = Random(seed * 1_000_003 + tool)
        self.works, self.people, self.places = works, works.people, works.places
        self.rest = HOUR * self.rng.choice((1, 4, 12, 40))

    def told(self, plan: Plan) -> Iterator[Deed]:
        """As many deeds as are wanted. A tool that was left has nothing in it, and is where it belongs."""
        if plan.in_use or not plan.entries:
            yield from islice(self.deeds(), plan.entries)
            return
        inside = False
        for deed in islice(self.deeds(), plan.entries - 1):
            inside = deed.kind == "lay_up" or (inside and deed.kind not in ("pull", "abandoned"))
            yield deed
        home = self.works.tools[self.tool].place.pk
        yield self._deed("pull", 20 * HOUR, count=1) if inside else self._deed("moved", HOUR, place=home)

    def deeds(self) -> Iterator[Deed]:
        """Without an end."""
        if self.recipe is None:
            return self._mask()
        return self._surface()

    def _deed(self, kind: str, after: timedelta, tool: int | None = None, **said: Any) -> Deed:
        self.now += after + timedelta(microseconds=self.rng.randrange(1, 60_000_000))
        said.setdefault("by", self.rng.choice(self.people))
        return Deed(self.now, self.tool if tool is None else tool, kind, said)

    def _mask(self) -> Iterator[Deed]:
        for number in count(1):
            yield self._deed("used", self.rest, count=self.rng.randrange(1, 9))
            if number % 10 == 0:
                yield self._deed("check", HOUR, passed=True)
            if number % 25 == 0:
                yield self._deed("moved", HOUR, place=self.rng.choice(self.places))

    def _surface(self) -> Iterator[Deed]:
        assert self.recipe is not None
        for insert in self.inserts:
            yield self._deed("coat", HOUR, insert, count=5)
            yield self._deed("installed", 14 * HOUR, insert, mold=self.tool)
        yield from self._prepare(self.recipe.coats_new)
        serial = 0
        while True:
            for allowed in (*self.recipe.break_in, *[self.recipe.pulls_between] * self.rng.randrange(3, 30)):
                came_off = ""
                for _pull in range(allowed):
                    serial += 1
                    came_off = self._came_off()
                    yield from self._part(serial, came_off)
                    if came_off in ("tight", "stuck"):
                        break
                if came_off == "stuck":
                    break
                yield from self._touch_up()
            yield self._deed("strip", HOUR)
            yield from self._prepare(self.recipe.coats_again)

    def _came_off(self) -> str:
        return self.rng.choices(CAME_OFF, CAME_OFF_WEIGHTS)[0]

    def _prepare(self, coats: int) -> Iterator[Deed]:
        assert self.recipe is not None
        if self.recipe.sealer_coats:
            yield self._deed("sealer", HOUR, count=self.recipe.sealer_coats)
        for _coat in range(coats):
            yield self._deed("coat", HOUR * 1.1, count=1, lot="tin 14")
        self.now += 12 * HOUR

    def _touch_up(self) -> Iterator[Deed]:
        if self.rng.random() < 0.03:
            return  # forgotten
        for tool in (self.tool, *self.inserts):
            yield self._deed("coat", timedelta(minutes=20), tool, count=1, reason="count")
        self.now += HOUR

    def _part(self, serial: int, came_off: str) -> Iterator[Deed]:
        assert self.recipe is not None
        self.now += self.rest
        if self.recipe.film_every_pull or self.recipe.film_first_pulls:
            yield self._deed("film", HOUR)
        part = {"part": f"P-{self.tool:05}", "serial": f"{serial:04}"}
        yield self._deed("lay_up", HOUR, earliest_pull=self.now + 14 * HOUR, **part)
        chance = self.rng.random()
        if chance < 0.004:
            yield self._deed("abandoned", HOUR, reason="resin went off in the bucket")
            return
        chipped = {"tool_damaged": True} if chance > 0.997 else {}
        yield self._deed("pull", self.rng.uniform(14, 30) * HOUR, count=1, came_off=came_off, **part, **chipped)
        if chipped:
            yield self._deed("inspected", 4 * HOUR, passed=True)
        elif chance > 0.99:
            yield self._deed("pull", HOUR, count=1, came_off=came_off)
            yield self._deed("void", HOUR, voids=1, reason="same pull written twice")
        elif chance > 0.98 and self.kind == Kind.MOLD:
            yield self._deed("moved", HOUR, place=self.rng.choice(self.places))
