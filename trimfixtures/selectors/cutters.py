"""The library of cutters and guide bushings: how far each has cut, how worn it measures, what takes it."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, time, tzinfo
from decimal import Decimal
from typing import Any

from django.db.models import Case, FloatField, IntegerField, Prefetch, Q, QuerySet, Sum, TextField, Value, When
from django.db.models.fields.json import KeyTextTransform
from django.db.models.functions import Cast, Coalesce

from tooling.models import Entry, Shop, Tool, tidy_code
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.selectors.cuts import cuts_of

# Changes of one that its page shows.
CHANGES = 30


@dataclass(frozen=True, slots=True)
class Use:
    """What was cut with one against one trim mask."""

    metres: Decimal = Decimal(0)
    parts: int = 0


@dataclass(frozen=True, slots=True)
class Known:
    """A cutter or bushing, what it cut since it was fresh (by trim mask, their keys), and which trim masks take it."""

    cutter: Cutter
    uses: Mapping[int, Use]
    takers: tuple[Tool, ...]

    @property
    def metres(self) -> Decimal:
        """How far it cut."""
        return sum((use.metres for use in self.uses.values()), Decimal(0))

    @property
    def parts(self) -> int:
        """How many parts it cut."""
        return sum(use.parts for use in self.uses.values())

    @property
    def wear(self) -> Decimal | None:
        """How far it measures from what it is meant to be, in mm: below zero where it is worn."""
        nominal, measured = self.cutter.nominal_mm, self.cutter.measured_mm
        return None if nominal is None or measured is None else measured - nominal

    @property
    def wants_look(self) -> bool:
        """Whether it has cut as far as the shop lets it before somebody looks at it."""
        after = self.cutter.look_after_m
        return after is not None and self.metres >= after


def cutters(at: datetime) -> list[Known]:
    """All of them, in the order of their codes."""
    return _known(Cutter.objects.all(), at)


def cutter(code: str, at: datetime) -> Known | None:
    """The one of that code."""
    return next(iter(_known(Cutter.objects.called(code), at)), None)


def changes(one: Cutter) -> list[Any]:
    """What was changed of it, the newest first: one more than a page shows where there are more."""
    return list(one.changes.select_related("who")[: CHANGES + 1])


def uses_of(codes: Collection[str], at: datetime) -> dict[str, dict[int, Use]]:
    """By code what it cut since it was fresh, one a trim mask, by its key: of the uses that stand.

    A use says which cutters were taken and how far they cut in all: of that each has the share of its own cuts of the
    trim mask as they are now, and a guide bushing, which no use names, that of the cuts that it guides. A cutter that
    no cut of it takes has all, which errs on the side of looking early. Uses are added up where they are stored.
    """
    wanted = {tidy_code(code) for code in codes}
    found: dict[str, dict[int, Use]] = {code: {} for code in wanted}
    if not wanted:
        return found
    begun = _fresh_since(wanted, Shop.current().zone)
    moments = sorted(set(begun.values()))
    rank = {code: moments.index(moment) + 1 for code, moment in begun.items()}
    rows = Entry.objects.filter(kind="used", at__lte=at).standing()
    if len(begun) == len(wanted):
        rows = rows.filter(at__gte=moments[0])
    sums = list(_added_up(rows, wanted, moments))
    ways = _ways({tool for tool, *_rest in sums})
    for tool, names, era, metres, parts in sums:
        for code, share in _shares(named(names or ""), ways.get(tool, [])).items():
            if code in wanted and era >= rank.get(code, 0):
                so_far = found[code].get(tool, Use())
                far = Decimal(str(round(metres or 0, 6))) * share
                found[code][tool] = Use(so_far.metres + far, so_far.parts + parts)
    return found


def _added_up(rows: QuerySet[Entry], wanted: set[str], moments: list[datetime]) -> QuerySet[Entry, Any]:
    """Trim mask, cutters as they are named, era, metres and parts: of trim masks that take one of these, or uses that
    may name one. An era begins when some of them were fresh, counted from 1; 0 is before all.
    """
    taking = Q(cutter__code__in=wanted) | Q(bushing__code__in=wanted)
    masks = Feature.objects.filter(taking).order_by().values("mask__tool")
    # Of many each would be looked for in each use.
    naming = Q(names__icontains=next(iter(wanted))) if len(wanted) == 1 else Q(names__gt="")
    eras = [When(at__gte=moment, then=Value(rank)) for rank, moment in reversed(list(enumerate(moments, 1)))]
    era = Case(*eras, default=Value(0), output_field=IntegerField())
    return (
        rows.annotate(names=Cast(KeyTextTransform("cutter", "payload"), TextField()), era=era)
        .filter(Q(tool__in=masks) | naming)
        .order_by()
        .values("tool", "names", "era")
        .annotate(
            far=Sum(Cast(KeyTextTransform("metres", "payload"), FloatField())), parts=Sum(Coalesce("count", Value(1)))
        )
        .values_list("tool", "names", "era", "far", "parts")
    )


@dataclass(frozen=True, slots=True)
class _Way:
    """How far one cut of a trim mask goes, in m, with which cutter and guide bushing of the library."""

    cutter: str
    guide: str
    metres: float


def _ways(tools: set[int]) -> dict[int, list[_Way]]:
    masks = {mask.pk: mask for mask in Mask.objects.filter(tool__in=tools)} if tools else {}
    return {
        masks[key].tool_id: [
            _Way(*map(_code, (cut.feature.cutter, cut.feature.bushing)), cut.metres or 0.0) for cut in cuts
        ]
        for key, cuts in cuts_of(masks.values(), ruled=False).items()
    }


def _code(one: Cutter | None) -> str:
    return one.code if one is not None else ""


def _shares(names: set[str], ways: list[_Way]) -> dict[str, Decimal]:
    """Of what these cutters cut in all along such cuts the share of each, and of each guide bushing.

    A cut without a cutter of the library is counted in all, as when the use was written down.
    """
    known, made = {way.cutter for way in ways}, [way for way in ways if way.cutter in names or not way.cutter]
    total = sum(way.metres for way in made)
    shares = dict.fromkeys(names, Decimal(1))
    for code in {way.guide for way in made} | (names & known if total else set()):
        own = sum(way.metres for way in made if code in (way.cutter, way.guide))
        shares[code] = Decimal(str(round(own / total, 6))) if total else Decimal(0)
    return shares


def by_trim_mask(known: Known) -> list[tuple[Tool, Use]]:
    """What it cut since it was fresh, one a trim mask that takes or took it, the most parts first."""
    tools = {tool.pk: tool for tool in known.takers} | Tool.objects.in_bulk(list(known.uses))
    found = [(tool, known.uses.get(pk, Use())) for pk, tool in tools.items()]
    return sorted(found, key=lambda one: (-one[1].parts, one[0].code))


def named(text: str) -> set[str]:
    """The codes that a use names: with commas."""
    return {tidy_code(code) for code in text.split(",") if code.strip()}


def _fresh_since(codes: Iterable[str], zone: tzinfo) -> dict[str, datetime]:
    days = Cutter.objects.filter(code__in=list(codes), fresh_on__isnull=False).values_list("code", "fresh_on")
    return {code: datetime.combine(day, time(), zone) for code, day in days}


def _known(those: Any, at: datetime) -> list[Known]:
    taken = Feature.objects.select_related("mask__tool").order_by("mask__tool__code")
    rows = list(those.prefetch_related(Prefetch("cuts", taken), Prefetch("guides", taken)))
    cut = uses_of([one.code for one in rows], at)
    return [Known(one, cut[one.code], _takers(one)) for one in rows]


def _takers(one: Cutter) -> tuple[Tool, ...]:
    tools = {feature.mask.tool for feature in (*one.cuts.all(), *one.guides.all())}
    return tuple(sorted((tool for tool in tools), key=lambda tool: tool.code))
