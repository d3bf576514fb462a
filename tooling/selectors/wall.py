"""The rows of the wall: the molds and plugs in use, what can be done now first, and what was just written there."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from functools import cached_property

from django.db.models import Q

from tooling.calc.ahead import Ahead, coats_ahead
from tooling.calc.state import decode
from tooling.models import Entry, Kind, Person, Shop, Span, Tool
from tooling.selectors.board import RECENT
from tooling.selectors.just_written import JustWritten, just_written
from tooling.selectors.rows import Row, rows, shown
from tooling.services.deeds.undo import RUB_OUT_WITHIN

# As many rows as anybody walks down on one tablet; the board has the rest.
MOST = 40
# Of the strips of tape: two people seldom write more in five minutes.
STRIPS = 3
# A coat of yesterday hazes no more.
_WIPED = timedelta(hours=12)
# Whether time, a hand or somebody who looks comes next.
DUE, CAN, WAITS, STOPPED = range(4)
_FIRST = ("in_molds", "soon", "wax", "ready", "held")


@dataclass(frozen=True, eq=False)
class InUse:
    """One row at a moment."""

    row: Row
    at: datetime
    zone: tzinfo

    @cached_property
    def coats(self) -> Ahead | None:
        """The coats that lie ahead of the surface that decides, where some are going on."""
        one = self.row.deciding
        recipe, _work = one.rules.judged_by(one.recipe)
        if recipe is None or self.row.status.status not in ("preparing", "needs_touch_up"):
            return None
        plan = coats_ahead(decode(one.summary.state), recipe, self.zone, self.at)
        return plan if plan.missing and not plan.strip else None

    @property
    def going_on(self) -> bool:
        """Whether a coat of these went on so lately that somebody is still at it."""
        plan = self.coats
        return plan is not None and plan.on > 0 and plan.last_at is not None and self.at - plan.last_at < _WIPED

    @cached_property
    def turn(self) -> tuple[int, datetime]:
        """Whose turn it is, and the time that it goes by: one that has come, or one that is still to come."""
        status = self.row.status
        if status.status == "held":
            return STOPPED, self.at
        when = status.ready_at
        if status.status == "part_in_mold":
            return (DUE, when or self.at) if when is None or when <= self.at else (WAITS, when)
        if status.status in ("curing", "film_drying") and when is not None:
            return WAITS, when
        if self.coats is not None and self.coats.next_at is not None:
            return WAITS, self.coats.next_at
        if self.going_on and self.coats is not None and self.coats.last_at is not None:
            return DUE, self.coats.last_at
        return CAN, self.at

    @property
    def is_due(self) -> bool:
        """A time has come."""
        return self.turn[0] == DUE


def in_use(at: datetime, order: Sequence[int] = ()) -> list[InUse]:
    """What a part is in, what coats go on, and what was used within the last days.

    order: the keys of tools as they stand on a screen: they stay where they are, and what is new comes behind them,
    so that no row moves under a finger.
    """
    keys = [key for group in _FIRST for key in _keys(group, at)][:MOST]
    zone = Shop.current().zone
    found = [InUse(row, at, zone) for row in rows(shown().at(at).filter(tool__in=keys), at)]
    found.sort(key=lambda one: (*one.turn, _FIRST.index(_group(one)), one.row.tool.code))
    stood = {key: place for place, key in enumerate(order)}
    return sorted(found, key=lambda one: stood.get(one.row.tool.pk, len(stood)))


def _group(one: InUse) -> str:
    ready = one.row.status.status in ("ready", "last_pull")
    return "ready" if ready else "wax"


def _keys(group: str, at: datetime) -> Iterable[int]:
    spans = Span.objects.at(at).filter(group=group, tool__kind__in=(Kind.MOLD, Kind.PLUG))
    since = at - RECENT
    if group == "held":
        used = Q(tool__summary__last_used_at__gte=since) | Q(tool__summary__laid_up_at__isnull=False)
        return spans.filter(used).order_by("group_at").values_list("tool", flat=True)[:MOST]
    if group in ("wax", "ready"):
        spans = spans.filter(group_at__gte=since).order_by("-group_at")
    else:
        spans = spans.order_by("group_at")
    return spans.values_list("tool", flat=True)[:MOST]


def strips(station: Person, at: datetime, shop: Shop) -> list[JustWritten]:
    """What was written there within the last minutes, the last of each tool, the latest first."""
    lately = Entry.objects.lately_by(station, at - RUB_OUT_WITHIN).order_by("-recorded_at")
    tools = list(dict.fromkeys(lately.values_list("tool", flat=True)))[:STRIPS]
    known = Tool.objects.in_bulk(tools)
    found = (just_written(known[key], station, at, shop) for key in tools)
    return [one for one in found if one is not None]
