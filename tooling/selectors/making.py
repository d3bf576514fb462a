"""Which tools make a part: those whose history names it, trim masks too, and the inserts that were in the molds."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Exists, Max, Min, OuterRef, Q, QuerySet, Subquery, Sum, Value
from django.db.models.functions import Coalesce, Upper

from tooling.calc.entry import INSERT_KINDS, MADE_KINDS, USE_KINDS
from tooling.models import Entry, Tool
from tooling.selectors.timeline import after_leaving

# Of these a number is counted; the others only name the part.
_COUNTED = ("pull", "used")


@dataclass(frozen=True, slots=True)
class Made:
    """What a tool did for a part: how many came off it or were trimmed against it, and from when to when."""

    count: int
    first: datetime
    last: datetime

    def __add__(self, other: "Made") -> "Made":
        """Both together."""
        return Made(self.count + other.count, min(self.first, other.first), max(self.last, other.last))


def uses(numbers: Collection[str]) -> QuerySet[Entry]:
    """The standing uses that name one of these parts, by its number in any case."""
    named = Entry.objects.filter(kind__in=MADE_KINDS).standing()
    return named.alias(part_key=Upper("part")).filter(part_key__in=_keys(numbers)).exclude(part="")


def made(numbers: Collection[str]) -> dict[str, dict[int, Made]]:
    """What each tool did for each of these parts, by the part's number in capitals and the key of the tool.

    In a few queries, however many parts there are; some more for each insert that left with a part in its mold.
    """
    found: dict[str, dict[int, Made]] = defaultdict(dict)
    count = Coalesce(Sum("count", filter=Q(kind__in=_COUNTED)), 0)
    rows = uses(numbers).order_by().annotate(of=Upper("part")).values("of", "tool")
    rows = rows.annotate(n=count, since=Min("at"), last=Max("at"))
    for number, tool, *of_it in rows.values_list("of", "tool", "n", "since", "last"):
        found[number][tool] = Made(*of_it)
    for insert, number, one in _of_inserts(numbers, {tool for of in found.values() for tool in of}):
        before = found[number].get(insert)
        found[number][insert] = before + one if before else one
    return dict(found)


def making(tools: QuerySet[Tool], numbers: Collection[str]) -> QuerySet[Tool]:
    """Those of the tools that made one of these parts."""
    # Of the index alone; whether what names it stands and is a use is asked of these tools only.
    naming = Entry.objects.alias(part_key=Upper("part")).filter(part_key__in=_keys(numbers)).order_by()
    named = {tool for _part, tool in naming.values_list(Upper("part"), "tool").distinct()}
    inserts = {insert for insert, _number, _made in _of_inserts(numbers, named)}
    made_it = Exists(uses(numbers).filter(tool=OuterRef("pk")))
    return tools.filter(Q(made_it, pk__in=named) | Q(pk__in=inserts))


def _keys(numbers: Iterable[str]) -> list[Any]:
    # By the database: on SQLite only the letters of ASCII have capitals.
    return [Upper(Value(number)) for number in numbers]


def _of_inserts(numbers: Collection[str], molds: Iterable[int]) -> Iterator[tuple[int, str, Made]]:
    """Each use of these molds for one of the parts that reached a mold insert: the insert, the part's number, what."""
    stays: dict[int, list[tuple[Any, ...]]] = defaultdict(list)
    left: set[int] = set()
    for insert, mold, since, until, last in _stays(molds):
        stays[mold].append((insert, since, until))
        if last in ("lay_up", "lay_up_done"):
            left.add(insert)
    after = {insert.pk: set(after_leaving(insert)) for insert in Tool.objects.filter(pk__in=left)}
    there = uses(numbers).filter(tool__in=list(stays), kind__in=USE_KINDS) if stays else Entry.objects.none()
    for number, use, mold, kind, count, at in there.values_list(Upper("part"), "pk", "tool", "kind", "count", "at"):
        one = Made(count or 0 if kind in _COUNTED else 0, at, at)
        inside = {insert for insert, since, until in stays[mold] if since <= at and (until is None or at < until)}
        for insert in inside | {insert for insert, reached in after.items() if use in reached}:
            yield insert, number, one


def _stays(molds: Iterable[int]) -> QuerySet[Entry, Any]:
    """Inserts in these molds: which, where, from and until when, and the mold's last use before it left."""
    moves = Entry.objects.filter(tool=OuterRef("tool"), kind__in=INSERT_KINDS).standing()
    later = moves.filter(Q(at__gt=OuterRef("at")) | Q(at=OuterRef("at"), pk__gt=OuterRef("pk")))
    before = Entry.objects.filter(tool=OuterRef("mold"), kind__in=USE_KINDS, at__lt=OuterRef("until")).standing()
    installed = Entry.objects.filter(kind="installed", mold__in=list(molds)).standing()
    stays = installed.annotate(until=Subquery(later.order_by("at", "pk").values("at")[:1]))
    stays = stays.annotate(last=Subquery(before.order_by("-at", "-pk").values("kind")[:1]))
    return stays.values_list("tool", "mold", "at", "until", "last")
