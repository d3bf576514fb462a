"""The morning board: every tool in the group of what comes next for it, from the spans that hold now."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from django.db.models import F, Q, QuerySet

from tooling.calc.status import RANK
from tooling.models import Kind, Shop, Span, Tool
from tooling.selectors.rows import Row, rows

# What nobody used for longer is one line at the end of its group.
RECENT = timedelta(days=14)
# As many as a person reads; the rest of a group is a link to the list.
MOST = 50


@dataclass(frozen=True)
class Group:
    """The rows of one group, and how many more there are that are not shown."""

    rows: list[Row] = field(default_factory=list)
    more: int = 0

    def __len__(self) -> int:
        return len(self.rows) + self.more


@dataclass(frozen=True)
class Board:
    """The groups of the morning. `soon` are those where only time or a film is missing."""

    shop: Shop
    at: datetime
    in_molds: Group
    ready: Group
    soon: Group
    wax: Group
    held: Group
    making: Group
    not_home: Group
    empty: bool


_IN_MOLDS = ("part_in_mold",)
_READY = ("ready", "last_pull")
_SOON = ("curing", "needs_film", "film_drying")
_WAX = ("needs_strip", "not_prepared", "preparing", "needs_touch_up")
_HELD = ("held",)


def board(at: datetime) -> Board:
    """The board at a moment that is not before the last write."""
    loose = Q(tool__kind=Kind.INSERT) & ~Q(tool__summary__in_mold_of=None)
    by_hand = Q(tool__kind__in=(Kind.PLUG, Kind.MOLD))
    return Board(
        shop=Shop.current(),
        at=at,
        in_molds=_group(at, _IN_MOLDS, by_hand, order=(F("ready_at").asc(nulls_first=True), "tool__code")),
        ready=_group(at, _READY, by_hand, order=("-rank", "tool__code")),
        soon=_group(at, _SOON, by_hand, order=(F("ready_at").asc(nulls_last=True), "tool__code")),
        wax=_wax(at, ~loose),
        held=_group(at, _HELD, ~loose, order=("tool__summary__held_since", "tool__code")),
        making=_making(at),
        not_home=_not_home(at),
        empty=not Tool.objects.exists(),
    )


def _now(at: datetime, statuses: Sequence[str]) -> QuerySet[Span]:
    ranks = [RANK[status] for status in statuses]
    spans = Span.objects.at(at).filter(rank__in=ranks, tool__summary__making=False)
    return spans.select_related("tool__summary", "tool__summary__home", "tool__summary__held_by")


def _group(at: datetime, statuses: Sequence[str], which: Q, order: Sequence[object]) -> Group:
    spans = _now(at, statuses).filter(which).order_by(*order)
    return _cut(spans, at)


def _cut(spans: QuerySet[Span], at: datetime) -> Group:
    first = list(spans[: MOST + 1])
    more = spans.count() - MOST if len(first) > MOST else 0
    return Group(rows(first[:MOST], at), more)


def _wax(at: datetime, which: Q) -> Group:
    """Those used or worked on within the last days, the nearest to use first; the others are counted."""
    spans = _now(at, _WAX).filter(which)
    recent = spans.filter(tool__summary__last_at__gte=at - RECENT).order_by("-rank", "tool__code")
    shown = list(recent[:MOST])
    return Group(rows(shown, at), spans.count() - len(shown))


def _making(at: datetime) -> Group:
    spans = Span.objects.at(at).filter(tool__summary__making=True, tool__summary__retired=False)
    return _cut(spans.select_related("tool__summary").order_by("tool__summary__step_at", "tool__code"), at)


def _not_home(at: datetime) -> Group:
    """Seen elsewhere than at home, and not in use: no part in it, not installed, not retired."""
    away = ~Q(tool__summary__seen_place=F("tool__summary__home")) & ~Q(tool__summary__seen_place=None)
    spans = (
        Span.objects.at(at)
        .filter(away, tool__summary__laid_up_at=None, tool__summary__in_mold_of=None, tool__summary__retired=False)
        .exclude(tool__summary__home=None)
        .select_related("tool__summary", "tool__summary__home", "tool__summary__seen_place")
    )
    return _cut(spans.order_by("tool__summary__seen_at", "tool__code"), at)
