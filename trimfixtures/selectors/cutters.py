"""The library of cutters and guide bushings: how far each has cut, how worn it measures, what takes it."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime, time, tzinfo
from decimal import Decimal, InvalidOperation
from typing import Any

from django.db.models import Prefetch

from tooling.models import Entry, Shop, Tool, tidy_code
from trimfixtures.models import Cutter, CutterState, Feature, Mask
from trimfixtures.selectors.cuts import cuts_of

# Changes of one that its page shows.
CHANGES = 30


@dataclass(frozen=True, slots=True)
class Use:
    """What was cut with one against one trim mask."""

    tool: int
    metres: Decimal
    parts: int


@dataclass(frozen=True, slots=True)
class Known:
    """A cutter or bushing, what it cut since it was fresh, and which trim masks take it."""

    cutter: Cutter
    metres: Decimal
    parts: int
    takers: tuple[Tool, ...]

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

    @property
    def others(self) -> tuple[str, ...]:
        """The states that it is not in."""
        return tuple(state for state in CutterState.values if state != self.cutter.state)


def cutters(at: datetime) -> list[Known]:
    """All of them, in the order of their codes."""
    return _known(Cutter.objects.all(), at)


def cutter(code: str, at: datetime) -> Known | None:
    """The one of that code."""
    return next(iter(_known(Cutter.objects.called(code), at)), None)


def changes(one: Cutter) -> list[Any]:
    """What was changed of it, the newest first: one more than a page shows where there are more."""
    return list(one.changes.select_related("who")[: CHANGES + 1])


def metres_cut(codes: Collection[str], at: datetime) -> dict[str, tuple[Decimal, int]]:
    """How far each has cut since it was fresh, in m, and how many parts: of the uses that stand."""
    found = uses_of(codes, at)
    return {
        code: (sum((use.metres for use in uses), Decimal(0)), sum(use.parts for use in uses))
        for code, uses in found.items()
    }


def uses_of(codes: Collection[str], at: datetime) -> dict[str, list[Use]]:
    """By code what it cut since it was fresh, one a use.

    A use says which cutters were taken and how far they cut in all: of that each has the share of its own cuts of the
    trim mask, and a guide bushing, which no use names, that of the cuts that it guides. A cutter that no cut of it
    takes has all, which errs on the side of looking early.
    """
    wanted = {tidy_code(code) for code in codes}
    found: dict[str, list[Use]] = {code: [] for code in wanted}
    if not wanted:
        return found
    begun = _fresh_since(wanted, Shop.current().zone)
    rows = Entry.objects.filter(kind="used", at__lte=at).standing()
    if len(begun) == len(wanted):
        rows = rows.filter(at__gte=min(begun.values()))
    uses = list(rows.values_list("tool_id", "at", "count", "payload"))
    ways = _ways({tool for tool, *_rest in uses})
    for tool, when, count, payload in uses:
        names, far = named(payload.get("cutter", "")), _metres(payload)
        for code, share in _shares(names, ways.get(tool, [])).items():
            if code in wanted and (code not in begun or when >= begun[code]):
                found[code].append(Use(tool, far * share, count or 1))
    return found


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
        for key, cuts in cuts_of(masks.values()).items()
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


def by_trim_mask(known: Known, at: datetime) -> list[tuple[Tool, Decimal, int]]:
    """What it cut since it was fresh, one a trim mask that takes or took it: metres and parts, the most parts first."""
    uses = uses_of([known.cutter.code], at)[known.cutter.code]
    tools = {tool.pk: tool for tool in known.takers} | Tool.objects.in_bulk({use.tool for use in uses})
    found = []
    for pk, tool in tools.items():
        own = [use for use in uses if use.tool == pk]
        found.append((tool, sum((use.metres for use in own), Decimal(0)), sum(use.parts for use in own)))
    return sorted(found, key=lambda one: (-one[2], one[0].code))


def named(text: str) -> set[str]:
    """The codes that a use names: with commas."""
    return {tidy_code(code) for code in text.split(",") if code.strip()}


def _fresh_since(codes: Iterable[str], zone: tzinfo) -> dict[str, datetime]:
    days = Cutter.objects.filter(code__in=list(codes), fresh_on__isnull=False).values_list("code", "fresh_on")
    return {code: datetime.combine(day, time(), zone) for code, day in days}


def _metres(payload: dict[str, Any]) -> Decimal:
    try:
        return Decimal(payload.get("metres") or 0)
    except InvalidOperation:
        return Decimal(0)


def _known(those: Any, at: datetime) -> list[Known]:
    taken = Feature.objects.select_related("mask__tool").order_by("mask__tool__code")
    rows = list(those.prefetch_related(Prefetch("cuts", taken), Prefetch("guides", taken)))
    cut = metres_cut([one.code for one in rows], at)
    return [Known(one, *cut[one.code], _takers(one)) for one in rows]


def _takers(one: Cutter) -> tuple[Tool, ...]:
    tools = {feature.mask.tool for feature in (*one.cuts.all(), *one.guides.all())}
    return tuple(sorted((tool for tool in tools), key=lambda tool: tool.code))
