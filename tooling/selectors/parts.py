"""Parts: what is made, and the tools whose history names it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches

from django.db.models import Case, OuterRef, Prefetch, Q, QuerySet, Subquery, Value, When
from django.db.models.functions import Coalesce, Upper

from tooling.models import Part, PartRevision, Tool
from tooling.selectors.making import made

# So many are named where a number is not known.
_NEAR = 5


@dataclass(frozen=True, slots=True)
class Maker:
    """A tool that has made a part: how many came off it, or were trimmed against it, and from when to when."""

    tool: Tool
    count: int
    first: datetime
    last: datetime


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


def names_of(numbers: Iterable[str]) -> dict[str, str]:
    """The names of some parts by their numbers in capitals, by the newest revision. One query."""
    keys = {number.strip().upper() for number in numbers if number.strip()}
    newest = PartRevision.objects.filter(part=OuterRef("pk")).newest_first()
    parts = Part.objects.annotate(key=Upper("number"), name=Subquery(newest.values("name")[:1])).filter(key__in=keys)
    return {key: name for key, name in parts.values_list("key", "name") if name}


def like(words: str, most: int) -> list[Part]:
    """The first parts that have each word in number or name, that of the very number before all. One query."""
    if not words.strip():
        return []
    very = Case(When(key=words.strip().upper(), then=0), default=1)
    return list(listed(words).prefetch_related(None).order_by(very, "number")[:most])


def makers_of_each(parts: list[Part]) -> dict[int, list[str]]:
    """The codes of the tools that made each of these parts, by the part's key, in a few queries."""
    by_number = made([part.number for part in parts]) if parts else {}
    codes = dict(Tool.objects.filter(pk__in={pk for of in by_number.values() for pk in of}).values_list("pk", "code"))
    return {part.pk: sorted(codes[pk] for pk in by_number.get(part.key, ())) for part in parts}


def makers(number: str) -> list[Maker]:
    """The tools that made a part by its number in any case, the last used first."""
    did = {tool: one for of in made([number]).values() for tool, one in of.items()}
    tools = Tool.objects.in_bulk(did)
    found = [Maker(tools[pk], one.count, one.first, one.last) for pk, one in did.items()]
    return sorted(found, key=lambda one: (-one.last.timestamp(), one.tool.code))


def found(number: str) -> Part | None:
    """The part of that number, in any case."""
    return Part.objects.numbered(number).first() if "\x00" not in number else None


def named_revision(part: Part, name: str | None) -> PartRevision | None:
    """The revision of that name, in any case; the newest where none is asked for."""
    newest_first = part.revisions.newest_first()
    if name is None:
        return newest_first.first()
    named = [one for one in newest_first if one.revision.casefold() == name.strip().casefold()]
    exact = [one for one in named if one.revision == name.strip()]
    return next(iter([*exact, *named]), None)


def near(number: str) -> list[str]:
    """The numbers of parts that somebody may have meant: those that have the text in them, then those alike."""
    numbers = {one.upper(): one for one in Part.objects.order_by("number").values_list("number", flat=True)}
    typed = number.strip().upper()
    inside = [one for one in numbers if typed and typed in one]
    alike = get_close_matches(typed, numbers, n=_NEAR)
    return [numbers[one] for one in dict.fromkeys([*inside, *alike])][:_NEAR]


def with_revisions(number: str) -> tuple[Part | None, list[PartRevision]]:
    """The part of that number, in any case, and its revisions, the newest first."""
    if "\x00" in number:
        return None, []
    of = PartRevision.objects.filter(part__in=Part.objects.numbered(number)).select_related("part")
    revisions = list(of.newest_first())
    return (revisions[0].part if revisions else found(number)), revisions


def revision_chosen(revisions: Sequence[PartRevision], key: str) -> PartRevision | None:
    """The one of that key."""
    return next((one for one in revisions if str(one.pk) == key), None)


def revision_called(revisions: Sequence[PartRevision], name: str) -> PartRevision | None:
    """The one of that name, in any case where none is written just so; "" is the name of the one without."""
    exact = (one for one in revisions if one.revision == name)
    return next(exact, next((one for one in revisions if one.revision.casefold() == name.casefold()), None))


def chosen_from(most: int) -> list[tuple[str, str]]:
    """The first parts by name, each with its number and in words; more are not read."""
    newest = PartRevision.objects.filter(part=OuterRef("pk")).newest_first()
    parts = Part.objects.annotate(name=Coalesce(Subquery(newest.values("name")[:1]), Value("")))
    found = parts.order_by("name", "number").values_list("number", "name")[:most]
    return [(number, f"{name} · {number}" if name else number) for number, name in found]
