"""A tool is accepted: with formal records on, on evidence and by somebody who may; else it is one person's word."""

from collections.abc import Iterator, Mapping, Sequence
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
from tooling.words.looks_answered import too_few


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
        for field, message in lacks(tool, said, readings, len(pictures)):
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


def lacks(tool: Tool, said: Evidence, readings: Readings, pictures: int) -> Iterator[tuple[str, str]]:
    """What an acceptance with formal records lacks: each by its field, with what to do.

    What is gone through is the checklist of today, also where somebody says that it was earlier.
    """
    checklist = checklist_at(tool.kind, Purpose.ACCEPTANCE, clock.now())
    if checklist is not None and said.get("checklist") not in (None, checklist.version):
        text = _("The acceptance checklist is version %(version)d by now: go through that.")
        yield "answers", text % {"version": checklist.version}
    elif checklist is not None:
        yield from _left_of(checklist, said.get("answers", ""), readings)
    if not said.get("design_ref", "").strip():
        yield "design_ref", _("Say which design it was held against.")
    if not said.get("design_revision", "").strip():
        yield "design_revision", _("Say which revision of the design.")
    if not said.get("note", "").strip():
        yield "note", _("Say in words how it was found.")
    if not pictures:
        yield "pictures", _("An acceptance wants a picture: add one at least.")


def _left_of(checklist: Checklist, answers: str, readings: Readings) -> Iterator[tuple[str, str]]:
    """Together the lines of which nobody said anything; each at its place what wants more values, or an instrument."""
    said, left = {one.item: one.said for one in read_answers(answers)}, []
    for item in checklist.items.all():
        found = [one for one in readings if item.quantity and _is_of(item, one)]
        if item.quantity and len(found) < item.spots:
            yield f"answers.{item.order}", too_few(item.spots, len(found))
        elif said.get(item.order, LEFT) == LEFT:
            left.append(item.words)
        elif not all(one.get("instrument") for one in found):
            yield f"answers.{item.order}", _("Say with which instrument it was measured.")
    if left:
        yield "answers", _("Not gone through yet: %(lines)s.") % {"lines": "; ".join(left)}


def _is_of(item: ChecklistItem, one: Mapping[str, Any]) -> bool:
    """Whether a value is one of a line; where the line names no unit or geometry, any will do."""
    return bool(
        one["quantity"] == item.quantity
        and item.unit in ("", one["unit"])
        and item.geometry in ("", one.get("geometry", ""))
    )
