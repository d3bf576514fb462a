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

    A use says how far it cut in all. Where it names several, each gets the share that its cuts of the trim mask have of
    theirs; one that no cut of it takes gets all, which errs on the side of looking early.
    """
    wanted = {tidy_code(code) for code in codes}
    begun = _fresh_since(wanted, Shop.current().zone)
    found: dict[str, list[Use]] = {code: [] for code in wanted}
    if not wanted:
        return found
    rows = Entry.objects.filter(kind="used", at__lte=at).standing()
    if len(begun) == len(wanted):
        rows = rows.filter(at__gte=min(begun.values()))
    uses = [
        (tool, when, count or 1, named(payload.get("cutter", "")), _metres(payload))
        for tool, when, count, payload in rows.values_list("tool_id", "at", "count", "payload")
    ]
    ways = _ways({tool for tool, _when, _count, codes, _far in uses if len(codes) > 1})
    for tool, when, count, names, far in uses:
        for code in names & wanted:
            if code not in begun or when >= begun[code]:
                found[code].append(Use(tool, far * _share(code, names, ways.get(tool)), count))
    return found


@dataclass(frozen=True, slots=True)
class _Ways:
    """How far each cutter goes for one part along the cuts of a trim mask, in m, and each guide bushing."""

    cutters: dict[str, float]
    guides: dict[str, float]


def _ways(tools: set[int]) -> dict[int, _Ways]:
    masks = {mask.pk: mask for mask in Mask.objects.filter(tool__in=tools)} if tools else {}
    ways = {}
    for key, cuts in cuts_of(masks.values()).items():
        way = ways[masks[key].tool_id] = _Ways({}, {})
        for cut in cuts:
            for one, of in ((cut.feature.cutter, way.cutters), (cut.feature.bushing, way.guides)):
                if one is not None:
                    of[one.code] = of.get(one.code, 0.0) + (cut.metres or 0.0)
    return ways


def _share(code: str, names: set[str], way: _Ways | None) -> Decimal:
    if way is None or len(names) == 1:
        return Decimal(1)
    own, total = way.cutters.get(code, way.guides.get(code)), sum(way.cutters.get(name, 0.0) for name in names)
    return Decimal(1) if own is None or not total else min(Decimal(str(round(own / total, 6))), Decimal(1))


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
