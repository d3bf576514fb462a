"""A list of tools in one of its orders, a page at a time from where another one ended: no slower at its end."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from django.db.models import F, Q, QuerySet

from tooling.models import Tool

# Beyond as many, how many there are is not counted.
COUNTED = 1000


@dataclass(frozen=True, slots=True)
class Order:
    """By a column, then by what stands beside it in its table, so that one index has both: the code, or the tool's key.

    `falls`: from the greatest down. `read` and `read_beside` take them back out of an address.
    """

    column: Any
    read: Callable[[str], Any]
    falls: bool = False
    beside: str = "code"
    read_beside: Callable[[str], Any] = str

    def of(self, tools: QuerySet[Tool], at: datetime, back: bool) -> QuerySet[Tool]:
        """The tools in this order, or backwards, with the column as `key`."""
        if self.column is _LEFT:
            # One filter, so that both are said of one span.
            still = Q(spans__until_at=None) | Q(spans__until_at__gt=at)
            tools = tools.filter(still, spans__from_at__lte=at)
        elif self.column is _USED:
            # Every tool has a summary; said so, the database may begin with those.
            tools = tools.filter(summary__isnull=False)
        sign = "-" if self.falls != back else ""
        rows = tools.annotate(key=self.column, beside=F(self.beside))
        return rows.order_by(f"{sign}key", "-beside" if back else "beside")

    def beyond(self, key: Any, beside: Any, back: bool) -> Q:
        """What comes after a row with this key and what stands beside it, or before it."""
        further = "lt" if self.falls != back else "gt"
        same = Q(**{"beside__lt" if back else "beside__gt": beside})
        return Q(**{f"key__{further}e": key}) & (Q(**{f"key__{further}": key}) | same)


def _instant(text: str) -> datetime:
    at = datetime.fromisoformat(text)
    if at.tzinfo is None:
        raise ValueError(text)
    # At the ends of the calendar a zone leads out of it: better here than in the database.
    return at.astimezone(UTC)


def _count(text: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise ValueError(text)
    return int(text)


_LEFT, _USED = F("spans__pulls_left"), F("summary__used_at")
ORDERS = {
    "code": Order(F("code"), str),
    "name": Order(F("name"), str),
    "used": Order(_USED, _instant, falls=True, beside="summary__tool_id", read_beside=_count),
    "left": Order(_LEFT, _count, falls=True, beside="spans__tool_id", read_beside=_count),
}


@dataclass(frozen=True, slots=True)
class Page:
    """The keys of the tools on it in order, and where the pages beside it begin; "" where there is none."""

    tools: list[int]
    before: str
    after: str


def page(tools: QuerySet[Tool], order: str, at: datetime, size: int, after: str = "", before: str = "") -> Page:
    """The page of `size` tools after a mark or before one; a mark that says nothing gives the first page.

    So does one beyond which there is nothing: no page of this list gave it, or its tools are gone.
    """
    by = ORDERS[order]
    mark = _read(by, after or before)
    back = mark is not None and not after
    found = _fetched(by, tools, at, size, mark, back)
    if len(found) <= size if back else mark is not None and not found:
        # The first page is a whole one.
        mark, back = None, False
        found = _fetched(by, tools, at, size, mark, back)
    more = len(found) > size
    found = found[:size][:: -1 if back else 1]
    if not found:
        return Page([], "", "")
    has_before, has_after = (more, True) if back else (mark is not None, more)
    return Page(
        [pk for pk, _key, _beside in found],
        _mark(found[0]) if has_before else "",
        _mark(found[-1]) if has_after else "",
    )


def counted(tools: QuerySet[Tool]) -> int:
    """How many there are, or COUNTED + 1 where there are more."""
    return tools.order_by()[: COUNTED + 1].count()


Row = tuple[int, Any, Any]
Mark = tuple[Any, Any]


def _fetched(by: Order, tools: QuerySet[Tool], at: datetime, size: int, mark: Mark | None, back: bool) -> list[Row]:
    rows = by.of(tools, at, back)
    if mark is not None:
        rows = rows.filter(by.beyond(*mark, back))
    return list(rows.values_list("pk", "key", "beside")[: size + 1])


def _mark(row: Row) -> str:
    _pk, key, beside = row
    said = key.isoformat() if isinstance(key, datetime) else key
    return key if key == beside and isinstance(key, str) else f"{said}~{beside}"


def _read(by: Order, text: str) -> Mark | None:
    """Key of a mark and what stands beside it; None for one that nobody's page gave."""
    said, _, beside = text.replace("\x00", "").rpartition("~")
    try:
        return (by.read(said or beside), by.read_beside(beside)) if beside else None
    except (ValueError, OverflowError):
        return None
