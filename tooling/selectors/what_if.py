"""What a change would make of the tools' states, before it is made. Nothing is written."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import Any

from django.db.models import Q

from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.status import status_of
from tooling.models import Kind, RecipeVersion, Shop, Summary, Tool
from tooling.selectors.history import History
from tooling.selectors.recipes import recipe_book
from tooling.selectors.release import IfOtherwise, Standing, standings
from tooling.services.drafts import draft
from tooling.words.status import sentence

# Stands for the number that an entry would get: behind all that there are.
_NOT_YET = 2**62


@dataclass(frozen=True, slots=True)
class WouldChange:
    """A tool that would be said otherwise: its answer and sentence now, and then."""

    tool: Tool
    now: str
    then: str
    status: Standing


@dataclass(frozen=True, slots=True)
class Later:
    """A tool that stays as it is at this moment, and the days from which it is idle too long, now and then."""

    tool: Tool
    now: date | None
    then: date | None


@dataclass(frozen=True, slots=True)
class WhatIf:
    """How many tools a change is about, those that it changes at once, and those where only a later day changes."""

    tools: int
    changed: list[WouldChange]
    later: list[Later]

    @property
    def same(self) -> int:
        """How many tools stay as they are."""
        return self.tools - len(self.changed) - len(self.later)


def with_version(new: RecipeVersion, at: datetime) -> WhatIf:
    """What the tools on a recipe, and molds with an insert on it, would be with a further version from `at` on."""
    rows = [version.as_calc() for version in RecipeVersion.objects.select_related("system")]
    book = RecipeBook([*rows, *_from(new, at)])
    return _compared(_touched(new.system.code), at, IfOtherwise(book=book))


def in_zone(zone: tzinfo, at: datetime) -> WhatIf:
    """What all tools would be if the shop's days began in another zone. Every history is folded for it."""
    return _compared(Tool.objects.filter(kind__in=Kind.WITH_SURFACE), at, IfOtherwise(zone=zone))


@dataclass(frozen=True, slots=True)
class Would:
    """What an entry would make of a surface by itself: its sentence now, and then."""

    now: str
    then: str


def if_written(tool: Tool, kind: str, said: Mapping[str, Any], at: datetime | None, now: datetime) -> Would:
    """What is said of the tool's own surface now, and what would be if an entry were written; its history is folded.

    `at`: when it happened; None is now.
    """
    book, zone = recipe_book(), Shop.current().zone
    made = draft(tool, kind, said)
    made.at, made.recorded_at = at or now, now
    fact = made.as_calc()
    fact.id = _NOT_YET
    before, after = History(book, zone), History(book, zone)
    after.log(tool.pk).append(fact)
    return Would(*(_of_surface(history, tool, book, zone, now) for history in (before, after)))


def _of_surface(history: History, tool: Tool, book: RecipeBook, zone: tzinfo, at: datetime) -> str:
    state = history.folded(tool).state
    status = status_of(state, tool.pk, book, zone, at)
    recipe = book.at(state.system, at)
    family = recipe.family if recipe is not None else "other"
    return sentence(status, family=family, now=at, zone=zone, kind=tool.kind).whole


def _from(new: RecipeVersion, at: datetime) -> Iterator[Recipe]:
    before, new.valid_from = new.valid_from, at
    yield new.as_calc()
    new.valid_from = before


def _touched(code: str) -> Iterable[Tool]:
    """The tools on a recipe, and the molds whose state has that of an insert on it in theirs."""
    on_it = Summary.objects.filter(state__system=code)
    molds = on_it.exclude(in_mold_of=None).values("in_mold_of")
    touched = Q(pk__in=on_it.values("tool")) | Q(pk__in=molds)
    return Tool.objects.filter(touched, summary__retired=False)


def _compared(tools: Iterable[Tool], at: datetime, otherwise: IfOtherwise) -> WhatIf:
    asked, zone = list(tools), Shop.current().zone
    changed, later = [], []
    for now, then in zip(standings(asked, at), standings(asked, at, otherwise=otherwise), strict=True):
        said, would = _said(now, at, zone), _said(then, at, zone)
        if said != would:
            changed.append(WouldChange(now.tool, said, would, then))
        elif now.status.expires_on != then.status.expires_on:
            later.append(Later(now.tool, now.status.expires_on, then.status.expires_on))
    return WhatIf(len(asked), changed, later)


def _said(one: Standing, at: datetime, zone: tzinfo) -> str:
    kind = one.tool.kind
    return sentence(one.status, family=one.family, now=at, zone=zone, own=one.own, on=one.on, kind=kind).whole
