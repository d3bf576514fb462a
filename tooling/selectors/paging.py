"""A list of tools in one of its orders, a page at a time from where another one ended: no slower at its end."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from django.db.models import F, Q, QuerySet, Value
from django.db.models.functions import Coalesce

from tooling.models import Tool

# Beyond as many, how many there are is not counted.
COUNTED = 1000
_NEVER = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Order:
    """By a column, then by code. `falls`: from the greatest down. `read` takes the column back out of an address."""

    column: Any
    read: Callable[[str], Any]
    falls: bool = False

    def of(self, tools: QuerySet[Tool], at: datetime, back: bool) -> QuerySet[Tool]:
        """The tools in this order, or backwards, with the column as `key`."""
        if self.column is _LEFT:
            # One filter, so that both are said of one span.
            still = Q(spans__until_at=None) | Q(spans__until_at__gt=at)
            tools = tools.filter(still, spans__from_at__lte=at)
        sign = "-" if self.falls != back else ""
        return tools.annotate(key=self.column).order_by(f"{sign}key", "-code" if back else "code")

    def beyond(self, key: Any, code: str, back: bool) -> Q:
        """What comes after a row with this key and code, or before it."""
        further = "lt" if self.falls != back else "gt"
        same = Q(**{"code__lt" if back else "code__gt": code})
        return Q(**{f"key__{further}e": key}) & (Q(**{f"key__{further}": key}) | same)


def _instant(text: str) -> datetime:
    at = datetime.fromisoformat(text)
    if at.tzinfo is None:
        raise ValueError(text)
    return at


def _count(text: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise ValueError(text)
    return int(text)


_LEFT = F("spans__pulls_left")
ORDERS = {
    "code": Order(F("code"), str),
    "name": Order(F("name"), str),
    "used": Order(Coalesce("summary__last_used_at", Value(_NEVER)), _instant, falls=True),
    "left": Order(_LEFT, _count, falls=True),
}


@dataclass(frozen=True, slots=True)
class Page:
    """The keys of the tools on it in order, and where the pages beside it begin; "" where there is none."""

    tools: list[int]
    before: str
    after: str


def page(tools: QuerySet[Tool], order: str, at: datetime, size: int, after: str = "", before: str = "") -> Page:
    """The page of `size` tools after a mark or before one; a mark that says nothing gives the first page."""
    by = ORDERS[order]
    mark = _read(by, after or before)
    back = mark is not None and not after
    found = _fetched(by, tools, at, size, mark, back)
    if back and len(found) <= size:
        # The first page is a whole one.
        mark, back = None, False
        found = _fetched(by, tools, at, size, mark, back)
    more = len(found) > size
    found = found[:size][:: -1 if back else 1]
    if not found:
        return Page([], "", "")
    has_before, has_after = (more, True) if back else (mark is not None, more)
    return Page(
        [pk for pk, _key, _code in found],
        _mark(found[0]) if has_before else "",
        _mark(found[-1]) if has_after else "",
    )


def counted(tools: QuerySet[Tool]) -> int:
    """How many there are, or COUNTED + 1 where there are more."""
    return tools.order_by()[: COUNTED + 1].count()


Row = tuple[int, Any, str]
Mark = tuple[Any, str]


def _fetched(by: Order, tools: QuerySet[Tool], at: datetime, size: int, mark: Mark | None, back: bool) -> list[Row]:
    rows = by.of(tools, at, back)
    if mark is not None:
        rows = rows.filter(by.beyond(*mark, back))
    return list(rows.values_list("pk", "key", "code")[: size + 1])


def _mark(row: Row) -> str:
    _pk, key, code = row
    said = key.isoformat() if isinstance(key, datetime) else key
    return code if key == code else f"{said}~{code}"


def _read(by: Order, text: str) -> Mark | None:
    """Key and code of a mark; None for one that nobody's page gave."""
    said, _, code = text.replace("\x00", "").rpartition("~")
    try:
        return (by.read(said or code), code) if code else None
    except (ValueError, OverflowError):
        return None
