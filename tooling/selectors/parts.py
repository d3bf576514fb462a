"""Parts: what is made, and the tools whose history names it."""

from dataclasses import dataclass
from datetime import datetime

from django.db.models import Max, Min, OuterRef, Prefetch, Q, QuerySet, Subquery, Sum, Value
from django.db.models.functions import Coalesce, Upper

from tooling.calc.entry import USE_KINDS
from tooling.models import Entry, Part, PartRevision, Tool


@dataclass(frozen=True, slots=True)
class Maker:
    """A tool that has made a part: how many pulls of it, and from when to when."""

    tool: Tool
    pulls: int
    first: datetime
    last: datetime


def uses() -> QuerySet[Entry]:
    """Standing lay-ups and pulls that name a part; `part_key` is its number in capitals."""
    standing = Entry.objects.filter(kind__in=USE_KINDS).standing()
    return standing.exclude(part="").alias(part_key=Upper("part"))


def listed(words: str = "") -> QuerySet[Part]:
    """All parts that have each word in number or name, with their revisions, the newest first."""
    newest = PartRevision.objects.filter(part=OuterRef("pk")).newest_first()
    parts = Part.objects.annotate(
        key=Upper("number"),
        name=Subquery(newest.values("name")[:1]),
        layup_minutes=Subquery(newest.values("layup_minutes")[:1]),
        in_mold_hours=Subquery(newest.values("in_mold_hours")[:1]),
    )
    for word in words.split():
        parts = parts.filter(Q(number__icontains=word) | Q(name__icontains=word))
    return parts.prefetch_related(Prefetch("revisions", PartRevision.objects.newest_first())).order_by("number")


def makers_of_each(parts: list[Part]) -> dict[int, list[str]]:
    """The codes of the tools that made each of these parts, by the part's key, in one query."""
    by_key = {part.key: part.pk for part in parts}
    rows = uses().filter(part_key__in=list(by_key)) if by_key else Entry.objects.none()
    found: dict[int, list[str]] = {}
    for number, code in rows.order_by("tool__code").values_list(Upper("part"), "tool__code").distinct():
        found.setdefault(by_key[number], []).append(code)
    return found


def makers(number: str) -> list[Maker]:
    """The tools whose own history names a part by its number in any case, the last used first."""
    rows = (
        uses().filter(part_key=Upper(Value(number))).order_by().values("tool")
        .annotate(first=Min("at"), last=Max("at"), pulls=Coalesce(Sum("count", filter=Q(kind="pull")), 0))
    )  # fmt: skip
    tools = Tool.objects.in_bulk([row["tool"] for row in rows])
    found = [Maker(tools[row["tool"]], row["pulls"], row["first"], row["last"]) for row in rows]
    return sorted(found, key=lambda one: (-one.last.timestamp(), one.tool.code))


def found(number: str) -> Part | None:
    """The part of that number, in any case."""
    return Part.objects.numbered(number).first() if "\x00" not in number else None
