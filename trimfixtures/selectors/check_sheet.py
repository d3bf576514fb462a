"""One check of a cut edge with all that goes on paper with it."""

from dataclasses import dataclass
from datetime import datetime

from tooling.models import Shop, Tool
from trimfixtures.selectors.edge_check import Check
from trimfixtures.selectors.edge_checks import EdgeChecks, edge_checks


@dataclass(frozen=True, slots=True)
class CheckSheetOf:
    """A check as of a moment, among the others."""

    at: datetime
    found: EdgeChecks
    one: Check
    shop: Shop


def check_sheet_of(tool: Tool, at: datetime, *, number: int | None = None) -> CheckSheetOf | None:
    """The check of that number, without one that which the page shows; None where there is none."""
    shop = Shop.current()
    found = edge_checks(tool, at, shop.zone, number=number)
    if found.one is None or (number is not None and found.one.number != number):
        return None
    return CheckSheetOf(at, found, found.one, shop)
