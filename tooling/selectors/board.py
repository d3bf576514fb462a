"""The morning board: every tool in the group of what comes next for it, from the spans that hold now."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

from django.db.models import Case, QuerySet, Value, When

from tooling.calc.entry import part_key
from tooling.calc.groups import GROUPS
from tooling.calc.halves import Half, together
from tooling.calc.status import RANK
from tooling.models import Kind, Shop, Span, Summary, Tool
from tooling.models.serials import split, whole_key
from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.paging import COUNTED
from tooling.selectors.rows import Row, rows, shown
from tooling.words.places import not_back

# What nobody used for longer is one line at the end of its group.
RECENT = timedelta(days=14)
# As many as a person reads; the rest of a group is a link to the list.
MOST = 50
# Before and behind every time: nobody can say when.
_EVER, _NEVER = datetime.min.replace(tzinfo=UTC), datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True)
class Group:
    """The rows of one group, and how many more there are that are not shown.

    Beyond COUNTED nobody counts: where there are `many`, there are more than that.
    """

    rows: list[Row] = field(default_factory=list)
    more: int = 0

    def __len__(self) -> int:
        return len(self.rows) + self.more

    @property
    def many(self) -> bool:
        """Whether there are more than are counted."""
        return len(self) > COUNTED


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


def sets_in(rows: Iterable[Row]) -> dict[int, list[str]]:
    """For each mold of a matched set, by its key: the codes of the others that the part in it is in as well."""
    halves = [_half(row) for row in rows if row.tool.matched_set and row.tool.kind == Kind.MOLD]
    parts = [[half.of for half in part] for part in together(halves)]
    return {row.tool.pk: [one.tool.code for one in part if one is not row] for part in parts for row in part}


def _half(row: Row) -> Half[Row]:
    """A part that is in a mold now: since when does not matter, for it is in all of them at once."""
    numbers = frozenset(whole_key(number) for number in split(row.summary.serial))
    group = row.tool.matched_set.casefold(), part_key(row.summary.part)
    return Half(row, row.tool.pk, group, _EVER, None, numbers)


# The keys of the tools of a group that are shown, and how many more there are.
Picked = tuple[list[int], int]


def board(at: datetime, wanted: Mapping[int, LayUpFrom | None] | None = None, shop: Shop | None = None) -> Board:
    """The board at a moment that is not before the last write.

    wanted: the tools of the parts that are wanted, and when the whole set of each can be laid up. Where they want wax
    or release they are shown, whenever they were used, before all others.
    """
    wanted, shop = wanted or {}, shop or Shop.current()
    picked = {
        "in_molds": _picked(_now(at, "in_molds").order_by("group_at")),
        "ready": _picked(_now(at, "ready").order_by("-group_at")),
        "soon": _picked(_now(at, "soon").order_by("group_at")),
        "wax": _wax(at, wanted),
        "held": _picked(_now(at, "held").order_by("group_at")),
        "making": _picked(_making()),
        "not_home": _not_home(at.astimezone(shop.zone).date()),
    }
    return Board(shop=shop, at=at, empty=not Tool.objects.exists(), **_groups(picked, at, wanted, shop))


def now(at: datetime, group: str) -> QuerySet[Span]:
    """The spans that hold now of the states of one of GROUPS, without what is in the making."""
    ranks = [RANK[status] for status in GROUPS[group]]
    return Span.objects.at(at).filter(rank__in=ranks, tool__summary__making=False)


def _now(at: datetime, group: str) -> QuerySet[Span]:
    """The spans that put their tools into that group now: one index holds all that is asked of them."""
    return Span.objects.at(at).filter(group=group)


def _picked(found: QuerySet) -> Picked:
    """The first of an ordered group, and how many more there are."""
    keys = list(found.values_list("tool", flat=True)[: COUNTED + 1])
    return keys[:MOST], len(keys[MOST:])


def _wax(at: datetime, wanted: Mapping[int, LayUpFrom | None]) -> Picked:
    """What is wanted, and what was used or worked on within the last days, the latest first; the others are counted."""
    recent = Case(When(group_at__gte=at - RECENT, then=Value(1)), default=Value(0))
    found = list(_now(at, "wax").order_by("-group_at").values_list("tool", recent)[: COUNTED + 1])
    first = list(_now(at, "wax").filter(tool__in=list(wanted)).values_list("tool", flat=True)) if wanted else []
    first.sort(key=lambda tool: _of_set(wanted, tool) or _NEVER)
    recently = [tool for tool, is_recent in found if is_recent]
    keys = list(dict.fromkeys(first + recently))[:MOST]
    return keys, len({*first, *(tool for tool, _recent in found)}) - len(keys)


def _of_set(wanted: Mapping[int, LayUpFrom | None], tool: int) -> datetime | None:
    """When the whole set of a wanted tool can be laid up; None where nobody can say, and for what is not wanted."""
    found = wanted.get(tool)
    return found.lay_up_at if found is not None else None


def _making() -> QuerySet[Summary]:
    return Summary.objects.filter(making=True, retired=False).order_by("step_at", "tool__code")


def _not_home(today: date) -> Picked:
    """Not back from a loan in time, with a home or without; then what is elsewhere, lent or lost, and not in use."""
    late = Summary.objects.filter(lent=True, lent_until__lt=today, retired=False, in_mold_of=None)
    first = list(late.order_by("lent_until", "tool").values_list("tool", flat=True)[: COUNTED + 1])
    away = Summary.objects.filter(away=True).order_by("seen_at").values_list("tool", flat=True)[: COUNTED + 1]
    keys = list(dict.fromkeys([*first, *away]))
    return keys[:MOST], len(keys[MOST:])


def _groups(
    picked: Mapping[str, Picked], at: datetime, wanted: Mapping[int, LayUpFrom | None], shop: Shop
) -> dict[str, Group]:
    """The groups with their rows, which are read at once for all of them."""
    on_it = {key for keys, _ in picked.values() for key in keys}
    made = {row.tool.pk: row for row in rows(shown().at(at).filter(tool__in=on_it), at)}
    groups = {name: Group([made[key] for key in keys if key in made], more) for name, (keys, more) in picked.items()}
    for name, order in _orders(at, wanted, at.astimezone(shop.zone).date()).items():
        groups[name].rows.sort(key=lambda row: row.tool.code)
        groups[name].rows.sort(key=order)
    return groups


def _orders(at: datetime, wanted: Mapping[int, LayUpFrom | None], today: date) -> dict[str, Callable[[Row], Any]]:
    """What each group goes by before the code. Where nobody can say when, it comes first; behind all in that of wax."""

    def ready(row: Row) -> datetime:
        return _of_set(wanted, row.tool.pk) or row.ready_if_started(at) or _NEVER

    return {
        "in_molds": lambda row: row.span.ready_at or _EVER,
        "ready": lambda row: -RANK[row.span.status],
        "soon": lambda row: row.span.ready_at or _EVER,
        "wax": lambda row: (row.tool.pk not in wanted, ready(row), -RANK[row.span.status]),
        "held": lambda row: row.summary.held_since or _EVER,
        "making": lambda row: row.summary.step_at or _EVER,
        "not_home": lambda row: (_late_since(row, today), row.summary.seen_at or _EVER),
    }


def _late_since(row: Row, today: date) -> date:
    """Since when it should be back; behind all such days for what is not late."""
    until = row.summary.lent_until
    return until if until is not None and not_back(row.summary, today) else date.max
