"""The morning board: every tool in the group of what comes next for it, from the spans that hold now."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from django.db.models import Case, Count, F, Q, QuerySet, Value, When, Window

from tooling.calc.status import RANK
from tooling.models import Kind, Shop, Span, Tool
from tooling.selectors.rows import Row, rows, shown

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
# The keys of the spans of a group that are shown, and how many more there are.
Picked = tuple[list[int], int]

# The states of each group.
GROUPS = {
    "in_molds": ("part_in_mold",),
    "ready": ("ready", "last_pull"),
    "soon": ("curing", "needs_film", "film_drying"),
    "wax": ("needs_strip", "not_prepared", "preparing", "needs_touch_up"),
    "held": ("held",),
}


def board(at: datetime) -> Board:
    """The board at a moment that is not before the last write."""
    inside = Q(tool__kind=Kind.INSERT) & ~Q(tool__summary__in_mold_of=None)
    by_hand = Q(tool__kind__in=(Kind.PLUG, Kind.MOLD))
    first = F("ready_at").asc(nulls_first=True), "tool__code"
    picked = {
        "in_molds": _picked(now(at, "in_molds").filter(by_hand).order_by(*first)),
        "ready": _picked(now(at, "ready").filter(by_hand).order_by("-rank", "tool__code")),
        "soon": _picked(now(at, "soon").filter(by_hand).order_by(*first)),
        "wax": _wax(now(at, "wax").filter(~inside, tool__kind__in=Kind.WITH_SURFACE), at),
        "held": _picked(now(at, "held").filter(~inside).order_by("tool__summary__held_since", "tool__code")),
        "making": _picked(_making(at)),
        "not_home": _picked(_not_home(at)),
    }
    groups = _groups(picked, at)
    groups["wax"].rows.sort(key=lambda row: row.ready_if_started(at) or _NEVER)
    return Board(shop=Shop.current(), at=at, empty=not Tool.objects.exists(), **groups)


def now(at: datetime, group: str) -> QuerySet[Span]:
    """The spans that hold now of one of GROUPS, without what is in the making."""
    ranks = [RANK[status] for status in GROUPS[group]]
    return Span.objects.at(at).filter(rank__in=ranks, tool__summary__making=False)


def _picked(spans: QuerySet[Span]) -> Picked:
    """The first of an ordered group; how many there are is counted in the same pass."""
    first = spans.annotate(all=Window(Count("*"))).values_list("pk", "all")[:MOST]
    pks = [pk for pk, _ in first]
    return pks, first[0][1] - len(pks) if pks else 0


def _groups(picked: Mapping[str, Picked], at: datetime) -> dict[str, Group]:
    """The groups with their rows: picked by key first, so that what a row shows is read once for all of them."""
    wanted = [pk for pks, _ in picked.values() for pk in pks]
    spans = {span.pk: span for span in shown(Span.objects.filter(pk__in=wanted), places=True)}
    made = iter(rows([spans[pk] for pk in wanted], at))
    return {name: Group([next(made) for _ in pks], more) for name, (pks, more) in picked.items()}


def _wax(spans: QuerySet[Span], at: datetime) -> Picked:
    """Those used or worked on within the last days, the nearest to use first; the others are counted."""
    recent = When(tool__summary__last_at__gte=at - RECENT, then=Value(0))
    spans = spans.annotate(old=Case(recent, default=Value(1)), all=Window(Count("*")))
    first = spans.order_by("old", "-rank", "tool__code").values_list("pk", "all", "old")[:MOST]
    pks = [pk for pk, _, old in first if not old]
    return pks, first[0][1] - len(pks) if first else 0


def _making(at: datetime) -> QuerySet[Span]:
    spans = Span.objects.at(at).filter(tool__summary__making=True, tool__summary__retired=False)
    return spans.order_by("tool__summary__step_at", "tool__code")


def _not_home(at: datetime) -> QuerySet[Span]:
    """Seen elsewhere than at home, and not in use: no part in it, not installed, not retired."""
    away = ~Q(tool__summary__seen_place=F("tool__summary__home")) & ~Q(tool__summary__seen_place=None)
    spans = (
        Span.objects.at(at)
        .filter(away, tool__summary__laid_up_at=None, tool__summary__in_mold_of=None, tool__summary__retired=False)
        .exclude(tool__summary__home=None)
    )
    return spans.order_by("tool__summary__seen_at", "tool__code")
