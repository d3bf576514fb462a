"""The morning board: every tool in the group of what comes next for it, from the spans that hold now."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

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


# Behind every time: nobody can say when.
_NEVER = datetime.max.replace(tzinfo=UTC)
# The spans of a group that are shown, and how many more there are.
Picked = tuple[list[Span], int]

_IN_MOLDS = ("part_in_mold",)
_READY = ("ready", "last_pull")
_SOON = ("curing", "needs_film", "film_drying")
_WAX = ("needs_strip", "not_prepared", "preparing", "needs_touch_up")
_HELD = ("held",)


def board(at: datetime) -> Board:
    """The board at a moment that is not before the last write."""
    inside = Q(tool__kind=Kind.INSERT) & ~Q(tool__summary__in_mold_of=None)
    by_hand = Q(tool__kind__in=(Kind.PLUG, Kind.MOLD))
    first = F("ready_at").asc(nulls_first=True), "tool__code"
    picked = {
        "in_molds": _picked(_now(at, _IN_MOLDS).filter(by_hand).order_by(*first)),
        "ready": _picked(_now(at, _READY).filter(by_hand).order_by("-rank", "tool__code")),
        "soon": _picked(_now(at, _SOON).filter(by_hand).order_by(*first)),
        "wax": _wax(_now(at, _WAX).filter(~inside, tool__kind__in=Kind.WITH_SURFACE), at),
        "held": _picked(_now(at, _HELD).filter(~inside).order_by("tool__summary__held_since", "tool__code")),
        "making": _picked(_making(at)),
        "not_home": _picked(_not_home(at)),
    }
    shown = iter(rows([span for spans, _ in picked.values() for span in spans], at))
    groups = {name: Group([next(shown) for _ in spans], more) for name, (spans, more) in picked.items()}
    groups["wax"].rows.sort(key=lambda row: row.ready_if_started(at) or _NEVER)
    return Board(shop=Shop.current(), at=at, empty=not Tool.objects.exists(), **groups)


def _now(at: datetime, statuses: Sequence[str]) -> QuerySet[Span]:
    ranks = [RANK[status] for status in statuses]
    spans = Span.objects.at(at).filter(rank__in=ranks, tool__summary__making=False)
    return spans.select_related("tool__summary__held_by", "tool__summary__laid_up_by")


def _picked(spans: QuerySet[Span]) -> Picked:
    first = list(spans[: MOST + 1])
    return first[:MOST], spans.count() - MOST if len(first) > MOST else 0


def _wax(spans: QuerySet[Span], at: datetime) -> Picked:
    """Those used or worked on within the last days, the nearest to use first; the others are counted."""
    recent = spans.filter(tool__summary__last_at__gte=at - RECENT).order_by("-rank", "tool__code")
    shown = list(recent[:MOST])
    return shown, spans.count() - len(shown)


def _making(at: datetime) -> QuerySet[Span]:
    spans = Span.objects.at(at).filter(tool__summary__making=True, tool__summary__retired=False)
    return spans.select_related("tool__summary").order_by("tool__summary__step_at", "tool__code")


def _not_home(at: datetime) -> QuerySet[Span]:
    """Seen elsewhere than at home, and not in use: no part in it, not installed, not retired."""
    away = ~Q(tool__summary__seen_place=F("tool__summary__home")) & ~Q(tool__summary__seen_place=None)
    spans = (
        Span.objects.at(at)
        .filter(away, tool__summary__laid_up_at=None, tool__summary__in_mold_of=None, tool__summary__retired=False)
        .exclude(tool__summary__home=None)
        .select_related("tool__summary", "tool__summary__home", "tool__summary__seen_place")
    )
    return spans.order_by("tool__summary__seen_at", "tool__code")
