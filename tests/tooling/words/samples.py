"""Statuses to say, each with only what its case is about."""

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from tooling.calc.status import Need, Status

ZONE = ZoneInfo("Europe/Lisbon")
NOW = datetime(2026, 5, 12, 6, 40, tzinfo=UTC)  # a Tuesday, 07:40 in the shop
SOON = NOW + timedelta(hours=8, minutes=30)


def status(name: str, **given: Any) -> Status:
    """A status of this name; whatever is not given says nothing."""
    empty = {
        "tool": 1, "surface": 1, "why": (), "need": None, "pulls_left": 0, "wax_after_pull": None, "pulls_past": 0,
        "since_coat": 0, "touch_ups": 0, "touch_ups_known": True, "total_pulls": 0, "total_coats": 0,
        "coats_in_preparation": 0, "break_in_index": 0, "expires_on": None, "ready_at": None, "in_mold": None,
    }  # fmt: skip
    return Status(**(empty | {"status": name} | given))


ONE_COAT, FIVE_COATS = Need(0, 1), Need(0, 5)
