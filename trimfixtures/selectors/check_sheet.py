"""One check of a cut edge with all that goes on paper with it."""

from dataclasses import dataclass
from datetime import datetime

from tooling.models import Shop, Tool
from trimfixtures.selectors.edge_checks import Check, EdgeChecks, edge_checks


@dataclass(frozen=True, slots=True)
class CheckSheetOf:
    """A check as of a moment. before, after: those before it and since, the newest first."""

    at: datetime
    found: EdgeChecks
    one: Check
    before: list[Check]
    after: list[Check]
    shop: Shop


def check_sheet_of(tool: Tool, at: datetime, *, number: int | None = None) -> CheckSheetOf | None:
    """The check of that number, without one that which the page shows; None where there is none."""
    shop = Shop.current()
    found = edge_checks(tool, at, shop.zone)
    one, before = found.numbered(number)
    if one is None or (number is not None and one.number != number):
        return None
    return CheckSheetOf(at, found, one, before, found.checks[: found.checks.index(one)], shop)
