"""What a change would make of the tools' states, before it is made. Nothing is written."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, tzinfo

from django.db.models import Q

from tooling.calc.recipe import Recipe, RecipeBook
from tooling.models import Kind, RecipeVersion, Shop, Summary, Tool
from tooling.selectors.release import IfOtherwise, Standing, standings
from tooling.words.status import sentence


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
