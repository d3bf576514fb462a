"""Acceptances: who may open the page of one, and what an entry that is one rests on."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from shared.access import can_lead, can_log
from shared.clock import now
from tooling.models import Entry, May, Right, Shop, Tool
from tooling.selectors.looked import Look, look_of
from tooling.selectors.rights import asked_for, right_behind


@dataclass(frozen=True, slots=True)
class Acceptance:
    """One acceptance: what was asked and answered, measured and seen with it, and by which right."""

    tool: Tool
    look: Look
    shop: Shop
    at: datetime
    right: Right | None

    @property
    def entry(self) -> Entry:
        """The entry that says so."""
        return self.look.entry


def may_accept(person: Any) -> bool:
    """Whether somebody gets to the page: a lead; or whoever logs, from the day on that the right is one of persons."""
    return can_lead(person) or (can_log(person) and asked_for(May.ACCEPT, now().astimezone(Shop.current().zone).date()))


def last_revision(tool: Tool) -> str:
    """The revision of its design that its last acceptance named; "" where none did."""
    found = Entry.objects.filter(tool=tool, kind="accepted", payload__has_key="design_revision").standing()
    last = found.order_by("at", "pk").last()
    return str(last.payload["design_revision"]) if last is not None else ""


def acceptance_of(tool: Tool, at: datetime, number: int | None = None) -> Acceptance | None:
    """The last one that stands, or that of a number within the tool's history; None where there is none."""
    found = Entry.objects.filter(tool=tool, kind="accepted", at__lte=at).standing()
    found = found if number is None else found.filter(number=number)
    entry = found.select_related("tool", "by", "recorded_by", "replaces").order_by("at", "pk").last()
    if entry is None:
        return None
    shop = Shop.current()
    return Acceptance(
        tool=tool, look=look_of(entry), shop=shop, at=at, right=right_behind(entry, May.ACCEPT, shop.zone)
    )
