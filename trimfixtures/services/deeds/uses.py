"""A trim mask at work: a part cut against it, and the cut edge checked."""

from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def log_use(trim_mask: Tool, *, count: int = 1, serial: str = "", part: str = "", **said: Unpack[Said]) -> Entry:
    """Parts were trimmed against the trim mask."""
    return record(trim_mask, "used", count=count, serial=serial, part=part, **said)


def log_check(trim_mask: Tool, *, passed: bool, serial: str = "", part: str = "", **said: Unpack[Said]) -> Entry:
    """The cut edge of a part was checked, and so the trim mask."""
    return record(trim_mask, "check", passed=passed, serial=serial, part=part, **said)
