"""A tool is accepted: with formal records on, on evidence and by somebody who may; else it is one person's word."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any, Unpack

from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.calc.answers import LEFT, read_answers
from tooling.models import Checklist, ChecklistItem, Entry, May, Purpose, Shop, Summary, Tool
from tooling.selectors.checklists import checklist_at
from tooling.selectors.looked import BEFORE_USE
from tooling.services.deeds.looks import Readings
from tooling.services.deeds.making import Evidence, accept
from tooling.services.deeds.measured_with import freed_token, measure_with
from tooling.services.deeds.standing import inspect
from tooling.services.deeds.undo import sent_before
from tooling.services.ledger import record
from tooling.services.pictures import Stored, add_stored
from tooling.services.rights import refuse_without
from tooling.services.trying import together, tried
from tooling.services.who_held import in_their_name


def accept_on_evidence(
    tool: Tool,
    *,
    passed: bool,
    readings: Readings = (),
    pictures: Sequence[Stored] = (),
    **said: Unpack[Evidence],
) -> Entry:
    """Accepted, and free of what holds it; or not yet, and held until somebody looked again. What was answered stays.

    Order: with formal records what is missing and who may not is refused; then all in one transaction: a look that
    frees it where it is held, the acceptance, or a look that it did not pass; each reading as an entry of its own; the
    pictures, whose files are stored already. The same form again gets its first answer.
    """
    was_sent = sent_before(said.get("token"))
    if passed and not was_sent and Shop.current().formal_records:
        at = said.get("at") or clock.now()
        by = said.get("by")
        refuse_without(by, May.ACCEPT, at, writer=in_their_name(by, said.get("recorded_by")))
        for field, message in lacks(tool, at, said, readings, len(pictures)):
            raise Refused(message, field)
    with together():
        entry = _accepted(tool, said, was_sent=was_sent) if passed else _not_yet(tool, said)
        if tried() is None:
            measure_with(entry, readings, was_sent=was_sent)
            who: dict[str, Any] = {"by": entry.by, "recorded_by": entry.recorded_by, "at": entry.recorded_at}
            for columns in pictures:
                add_stored(tool, columns, entry=entry, **who)
    return entry


def _accepted(tool: Tool, said: Evidence, *, was_sent: bool) -> Entry:
    held = not was_sent and Summary.objects.filter(tool=tool, held_since__isnull=False).exists()
    if held:
        who: dict[str, Any] = {name: said.get(name) for name in ("by", "recorded_by", "at", "ago")}
        inspect(tool, passed=True, to_free=True, token=freed_token(said.get("token")), **who)
    return accept(tool, **said)


def _not_yet(tool: Tool, said: Evidence) -> Entry:
    return record(tool, "inspected", passed=False, evidence=BEFORE_USE, **said)


def lacks(tool: Tool, at: datetime, said: Evidence, readings: Readings, pictures: int) -> Iterator[tuple[str, str]]:
    """What an acceptance with formal records lacks: each by its field, with what to do."""
    checklist = checklist_at(tool.kind, Purpose.ACCEPTANCE, at)
    if checklist is not None and (left := _unanswered(checklist, said.get("answers", ""), readings)):
        yield "answers", _("Not gone through yet: %(lines)s.") % {"lines": "; ".join(left)}
    if not said.get("design_ref", "").strip():
        yield "design_ref", _("Say which design it was held against.")
    if not said.get("design_revision", "").strip():
        yield "design_revision", _("Say which revision of the design.")
    if not said.get("note", "").strip():
        yield "note", _("Say in words how it was found.")
    if not pictures:
        yield "pictures", _("An acceptance wants a picture: add one at least.")


def _unanswered(checklist: Checklist, answers: str, readings: Readings) -> list[str]:
    """The lines of which nobody said anything, or that want more values than were measured."""
    said = {one.item: one.said for one in read_answers(answers)}
    return [
        item.words
        for item in checklist.items.all()
        if said.get(item.order, LEFT) == LEFT or (item.quantity and _measured(item, readings) < item.spots)
    ]


def _measured(item: ChecklistItem, readings: Readings) -> int:
    """How many values there are for a line; where it names no unit or geometry, any will do."""
    return sum(
        one["quantity"] == item.quantity
        and item.unit in ("", one["unit"])
        and item.geometry in ("", one.get("geometry", ""))
        for one in readings
    )
