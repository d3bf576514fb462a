"""What a change would make of the tools' states, before it is made. Nothing is written."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, tzinfo

from django.db.models import Q

from tooling.calc.recipe import Recipe, RecipeBook
from tooling.models import Kind, RecipeVersion, Summary, Tool
from tooling.selectors.release import IfOtherwise, Standing, standings


@dataclass(frozen=True, slots=True)
class WouldChange:
    """A tool whose answer would be another: as it stands now, and as it would stand then."""

    now: Standing
    then: Standing

    @property
    def tool(self) -> Tool:
        """Whose answers they are."""
        return self.now.tool


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The tools that a change is about, those whose state it changes, and those where only a later day changes."""

    tools: int
    changed: list[WouldChange]
    later: list[tuple[Tool, date | None, date | None]]


def with_version(new: RecipeVersion, at: datetime) -> WhatIf:
    """What the tools on a recipe, and molds with an insert on it, would be with a further version from `at` on."""
    rows = [version.as_calc() for version in RecipeVersion.objects.select_related("system")]
    book = RecipeBook([*rows, *_from(new, at)])
    return _compared(_touched(new.system.code), at, IfOtherwise(book=book))


def in_zone(zone: tzinfo, at: datetime) -> WhatIf:
    """What all tools would be if the shop's days began in another zone. Every history is folded for it."""
    return _compared(list(Tool.objects.filter(kind__in=Kind.WITH_SURFACE)), at, IfOtherwise(zone=zone))


def _from(new: RecipeVersion, at: datetime) -> Iterator[Recipe]:
    before, new.valid_from = new.valid_from, at
    yield new.as_calc()
    new.valid_from = before


def _touched(code: str) -> list[Tool]:
    """The tools on a recipe, and the molds whose state has that of an insert on it in theirs."""
    on_it = Summary.objects.filter(state__system=code)
    molds = on_it.exclude(in_mold_of=None).values("in_mold_of")
    touched = Q(pk__in=on_it.values("tool")) | Q(pk__in=molds)
    return list(Tool.objects.filter(touched, summary__retired=False))


def _compared(tools: Iterable[Tool], at: datetime, otherwise: IfOtherwise) -> WhatIf:
    asked = list(tools)
    pairs = list(zip(standings(asked, at), standings(asked, at, otherwise=otherwise), strict=True))
    changed = [WouldChange(now, then) for now, then in pairs if _said(now) != _said(then)]
    same = [(now, then) for now, then in pairs if _said(now) == _said(then)]
    later = [
        (now.tool, now.status.expires_on, then.status.expires_on)
        for now, then in same
        if now.status.expires_on != then.status.expires_on
    ]
    return WhatIf(len(asked), changed, later)


def _said(one: Standing) -> tuple[object, ...]:
    """All that the sentence about a tool is made of."""
    status = one.status
    return (
        status.status, status.surface, status.why, status.need, status.pulls_left, status.pulls_past,
        status.ready_at, one.family,
    )  # fmt: skip
