"""Which tools are to be looked over now or soon, by what their summaries keep: for the board, the wall and the list."""

from datetime import date, timedelta

from django.db.models import Case, F, Q, QuerySet, When

from tooling.models import Summary
from tooling.selectors.board import MOST
from tooling.selectors.board_more import MoreRows, Morning
from tooling.selectors.look_overs import stored
from tooling.selectors.paging import COUNTED
from tooling.words import looks as words

# So far ahead the board names one.
PULLS_AHEAD, DAYS_AHEAD = 2, timedelta(days=7)
_OF_TOOL = ("code", "name", "kind", "inspect_every_pulls", "inspect_every_days")
_SHOWN = ("look_left", "look_on", *(f"tool__{name}" for name in _OF_TOOL))


def wanted(today: date, pulls: int = 0) -> QuerySet[Summary]:
    """Those that somebody is to look over by that day, or within so many pulls; none that is being made or retired."""
    return Summary.objects.filter(Q(look_left__lte=pulls) | Q(look_on__lte=today), retired=False, making=False)


def to_look_over(morning: Morning) -> MoreRows | None:
    """Those that want it now first; what is held waits for somebody to look anyway, and stands there. One query."""
    today = morning.at.astimezone(morning.shop.zone).date()
    soon = wanted(today + DAYS_AHEAD, PULLS_AHEAD).filter(held_since=None)
    # Where there are more than are counted, those that are late are among them.
    late = Case(When(Q(look_left__lte=0) | Q(look_on__lte=today), then=0), default=1)
    urgent = soon.order_by(late, F("look_left").asc(nulls_last=True), "look_on", "tool__code")
    found = list(urgent.select_related("tool").only(*_SHOWN)[: COUNTED + 1])
    found.sort(key=lambda one: _order(one, today))
    lines = [words.to_look_over(one.tool, stored(one), today) for one in found[:MOST]]
    return MoreRows(words.TO_LOOK_OVER, lines, words.opening(len(found)), len(found[MOST:]))


def _order(one: Summary, today: date) -> tuple[bool, int, str]:
    """What is late comes first, a pull like a day."""
    left = [one.look_left] if one.look_left is not None else []
    left += [(one.look_on - today).days] if one.look_on is not None else []
    return min(left) > 0, min(left), one.tool.code
