"""Acceptances: who may open the page of one, and what an entry that is one rests on."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Q

from shared.access import can_lead, can_log
from tooling.calc.answers import Answer, read_answers
from tooling.models import Checklist, ChecklistItem, Entry, May, Person, Picture, Purpose, Right, Shop, Tool
from tooling.selectors.checklists import version_of
from tooling.selectors.pictures import of_entries
from tooling.selectors.rights import right_of


@dataclass(frozen=True)
class Acceptance:
    """One acceptance: what was asked beside what was answered, what was measured and seen, and by which right."""

    tool: Tool
    entry: Entry
    shop: Shop
    at: datetime
    checklist: Checklist | None
    answered: list[tuple[int, ChecklistItem | None, Answer]]
    readings: list[Entry]
    pictures: list[Picture]
    right: Right | None


def may_accept(person: Any) -> bool:
    """Whether somebody gets to the page: a lead; or whoever logs, once the right is one of persons."""
    return can_lead(person) or (can_log(person) and _is_a_right())


def _is_a_right() -> bool:
    return Right.objects.filter(may=May.ACCEPT).exists() and Shop.current().formal_records


def last_revision(tool: Tool) -> str:
    """The revision of its design that its last acceptance named; "" where none did."""
    found = Entry.objects.filter(tool=tool, kind="accepted", payload__has_key="design_revision").standing()
    last = found.order_by("at", "pk").last()
    return str(last.payload["design_revision"]) if last is not None else ""


def acceptance_of(tool: Tool, at: datetime, number: int | None = None) -> Acceptance | None:
    """The last one that stands, or that of a number within the tool's history; None where there is none."""
    found = Entry.objects.filter(tool=tool, kind="accepted", at__lte=at).standing()
    found = found if number is None else found.filter(number=number)
    entry = found.select_related("by", "recorded_by").order_by("at", "pk").last()
    if entry is None:
        return None
    shop = Shop.current()
    checklist = version_of(tool.kind, Purpose.ACCEPTANCE, entry.payload.get("checklist"))
    items = {item.order: item for item in checklist.items.all()} if checklist is not None else {}
    answers = read_answers(entry.payload.get("answers", ""))
    return Acceptance(
        tool=tool,
        entry=entry,
        shop=shop,
        at=at,
        checklist=checklist,
        answered=[(one.item, items.get(one.item), one) for one in answers],
        readings=_readings(entry),
        pictures=of_entries([entry.pk]).get(entry.pk, []),
        right=_right(entry.by, entry, shop),
    )


def _readings(entry: Entry) -> list[Entry]:
    """What was measured at its very moment by the same hands."""
    found = Entry.objects.filter(Q(tool=entry.tool_id, kind="reading", at=entry.at, by=entry.by_id)).standing()
    return list(found.order_by("pk"))


def _right(person: Person | None, entry: Entry, shop: Shop) -> Right | None:
    day = entry.at.astimezone(shop.zone).date()
    return right_of(person, May.ACCEPT, day, entry.recorded_at) if person is not None else None
