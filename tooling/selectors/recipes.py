"""The shop's recipes, as the rules read them and as their pages show them."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Any

from django.db.models import Count, QuerySet

from tooling.calc.recipe import RecipeBook
from tooling.models import RecipeVersion, ReleaseSystem, Summary, Tool


def recipe_book() -> RecipeBook:
    """All versions of all recipes."""
    return RecipeBook(version.as_calc() for version in RecipeVersion.objects.select_related("system"))


def in_force(at: datetime) -> dict[str, RecipeVersion]:
    """The version of each recipe that holds at a moment, by the recipe's code."""
    versions = RecipeVersion.objects.begun(at).select_related("system").in_order()
    # The last of each that had begun; to ask the database for it takes longer than the few that it replaced.
    return {version.system.code: version for version in versions}


@dataclass(frozen=True, slots=True)
class Listed:
    """A recipe in the list: what holds now, how many tools are on it, and which of its numbers the shop has set."""

    version: RecipeVersion
    tools: int
    changed: tuple[str, ...]


def listed(at: datetime, numbers: list[str]) -> list[Listed]:
    """All recipes in code order; `numbers`: the columns that a shop sets for itself."""
    in_use = Summary.objects.filter(retired=False).values_list("state__system").annotate(tools=Count("pk"))
    counts = dict(in_use.order_by())
    held = in_force(at)
    changed = set_since(held.values(), numbers)
    return [Listed(version, counts.get(code, 0), changed.get(version.system_id, ())) for code, version in held.items()]


def set_since(held: Iterable[RecipeVersion], numbers: list[str]) -> dict[int, tuple[str, ...]]:
    """By recipe the numbers that differ from those it began with, for versions that are not the first of theirs."""
    later = {version.system_id: version for version in held if version.valid_from is not None}
    first = RecipeVersion.objects.filter(valid_from=None, system__in=later) if later else ()
    return {
        one.system_id: tuple(change.column for change in changes(one, later[one.system_id], numbers)) for one in first
    }


def tools_on(code: str) -> QuerySet[Tool]:
    """The tools that are on a recipe by now, in code order."""
    return Tool.objects.filter(summary__state__system=code).order_by("code")


@dataclass(frozen=True, slots=True)
class Change:
    """One column that a version says otherwise than the version before it."""

    column: str
    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class Version:
    """A version with what it changed; the first of a recipe changed nothing."""

    version: RecipeVersion
    changes: tuple[Change, ...]
    holds: bool


def versions(system: ReleaseSystem, columns: list[str], at: datetime) -> list[Version]:
    """The versions of a recipe, newest first, each compared with the one before it in these columns."""
    rows = list(system.versions.in_order())
    begun = [row for row in rows if row.valid_from is None or row.valid_from <= at]
    holding = begun[-1] if begun else None
    first = [Version(row, (), row is holding) for row in rows[:1]]
    later = [Version(new, changes(old, new, columns), new is holding) for old, new in pairwise(rows)]
    return [*first, *later][::-1]


def changes(old: RecipeVersion, new: RecipeVersion, columns: list[str]) -> tuple[Change, ...]:
    """The columns that a version says otherwise than another one."""
    pairs = ((column, getattr(old, column), getattr(new, column)) for column in columns)
    return tuple(Change(*pair) for pair in pairs if pair[1] != pair[2])
