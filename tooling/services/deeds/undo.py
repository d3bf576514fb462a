"""Taking an entry back: a void, a correction, and rubbing out what was written a moment ago."""

from datetime import timedelta
from typing import Any, Unpack
from uuid import uuid5

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.calc.entry import part_key
from tooling.models import Entry, Person, Tool
from tooling.selectors.inserts_back import missing_after
from tooling.services.acceptance_rules import refuse_elsewhere
from tooling.services.deeds import unseen
from tooling.services.deeds.alongside import still_counted, take_along
from tooling.services.deeds.base import Said
from tooling.services.deeds.measured_with import freed_with, readings_with
from tooling.services.defects import on_another_tool
from tooling.services.families import lock_all
from tooling.services.ledger import record
from tooling.services.trying import together, tried

RUB_OUT_WITHIN = timedelta(minutes=5)


def void(entry: Entry, *, reason: str, **said: Unpack[Said]) -> Entry:
    """The entry never was; it stays readable, struck through, with the reason.

    With a pull, the removals of mold inserts that were written with it are void as well; with a cut or a check of a
    trim mask the hold that was: it would say what never was. That of a pull is a question, which stays.
    """
    _wants_reason(reason)
    with together():
        held = unseen.hold_of(entry) if entry.kind in unseen.OF_TRIM_MASKS and not gone(entry) else None
        if held is not None:
            why = _("what it was held with is void: %(reason)s") % {"reason": reason}
            unseen.take_back(held, reason=why, by=said.get("by"), recorded_by=said.get("recorded_by"))
        return _void(entry, reason=reason, **said)


def _void(entry: Entry, *, reason: str, **said: Unpack[Said]) -> Entry:
    with together():
        away = gone_with(entry)
        if away and tried() is None:
            lock_all([entry.tool, *(one.tool for one in away)])
        for one in away:
            who: Said = {"by": said.get("by"), "recorded_by": said.get("recorded_by")}
            record(one.tool, "void", voids=one, reason=_("its pull is void: %(reason)s") % {"reason": reason}, **who)
        return record(entry.tool, "void", voids=entry, reason=reason, **said)


def gone_with(entry: Entry) -> list[Entry]:
    """The removals that were written with a pull, of inserts that are still nowhere else."""
    if entry.kind != "pull" or gone(entry):
        return []
    return [one for one in missing_after(entry) if one.tool.summary.in_mold_of_id is None]


def correct(
    entry: Entry, *, reason: str, kind: str | None = None, changes: dict[str, Any], **said: Unpack[Said]
) -> Entry:
    """Another entry stands in the entry's place: the same facts but for the changes, and its own time if one is said.

    What the changes do not name is taken from the entry, if it stays of its kind; give None to empty a fact. The
    pictures that were given with the entry go along, and with a coat that it was wiped. A pull, a cut or a check that
    is now one after which somebody has to look holds the tool until then; one that is no longer frees it of no hold.
    A hold that was written with it goes along to another time. What is now said to have been seen out of the place
    that was counted is in the count no more.
    """
    _wants_reason(reason)
    said.setdefault("at", entry.at)
    said.setdefault("by", entry.by)
    kind = kind or entry.kind
    facts = facts_of(entry) if kind == entry.kind else {"part": entry.part, "serial": entry.serial}
    if part_key(changes.get("part", entry.part) or "") != part_key(entry.part):
        facts.pop("revision", None)  # it was that of another part
    if not still_counted(facts, changes):
        facts.pop("counted")
    with together():
        new = record(entry.tool, kind, replaces=entry, **{**facts, **changes, "why": reason}, **said)
        if tried() is None:
            take_along(entry, new)
        if new.kind in unseen.HOLDING and stands(new):
            _keep_hold(entry, new, said)
    return new


def _keep_hold(entry: Entry, new: Entry, said: Said) -> None:
    held = unseen.hold_of(new)
    if held is None:
        if _ended(new) != _ended(entry) and unseen.wants_look(new):
            unseen.hold_until_looked(new, said.get("recorded_by"))
    elif again := unseen.hold_said_again(held, new):
        why = _("what it was held with was corrected")
        correct(held, reason=why, by=held.by, recorded_by=said.get("recorded_by"), **again)


def _ended(entry: Entry) -> tuple[Any, ...]:
    """How it came off, how the cut went, whether the check passed."""
    return entry.came_off, entry.payload.get("outcome", ""), entry.payload.get("passed")


def put_right(entry: Entry, *, tool: Tool, reason: str, **said: Unpack[Said]) -> Entry:
    """It was logged on the wrong tool: the same is written on the right one and void here, both or neither.

    Time and hands stay those of the entry; both histories say where the other is. What goes along with a correction
    goes along here; mold inserts that were written as missing are void with the pull here. The same form again gets
    the first answer again. Returns the entry on the right tool.
    """
    _wants_reason(reason)
    token = said.get("token")
    if not sent_before(token) and gone(entry):
        raise Refused(_("This is void or corrected already: there is nothing more to take back."))
    if not sent_before(token):
        refuse_elsewhere(entry, tool)
    facts = {**facts_of(entry), "note": _with_note(entry, entry.tool)}
    if facts.get("defects"):
        facts["defects"] = on_another_tool(facts["defects"])
    for of_here in ("why", "inserts_back"):
        facts.pop(of_here, None)
    if facts.get("surface") is not None:
        facts["surface"] = tool.pk if facts["surface"] == entry.tool_id else None
    who = said.get("recorded_by")
    with together():
        if tried() is None:
            lock_all([entry.tool, tool, *(one.tool for one in gone_with(entry))])
        new = record(tool, entry.kind, at=entry.at, by=entry.by, recorded_by=who, token=token, **facts)
        if not gone(entry):
            why = _("%(reason)s: it was %(tool)s") % {"reason": reason, "tool": tool.code}
            _take_hold_along(entry, new, why, said.get("by"), who)
            if tried() is None:
                take_along(entry, new)
            _void(entry, reason=why, by=said.get("by"), recorded_by=who, token=uuid5(token, "void") if token else None)
    return new


def _take_hold_along(entry: Entry, new: Entry, why: str, by: Person | None, who: Person | None) -> None:
    """The hold that was written with an entry goes where the entry goes."""
    held = unseen.hold_of(entry)
    if held is not None:
        unseen.take_back(held, reason=why, by=by, recorded_by=who)
        unseen.hold_until_looked(new, who)


def gone(entry: Entry) -> bool:
    """Whether it is void, or another stands in its place, or it is a void itself."""
    return entry.kind == "void" or Entry.objects.filter(Q(voids=entry) | Q(replaces=entry)).exists()


def stands(entry: Entry) -> bool:
    """Whether what was just written, or written when the same form came first, is there; what is tried always is."""
    return tried() is not None or not gone(entry)


def _with_note(entry: Entry, wrong: Tool) -> str:
    """What stands in the entry's own words, and where it was logged first."""
    first = _("Logged on %(tool)s first, by mistake.") % {"tool": wrong.code}
    return " ".join(text for text in (entry.payload.get("note", ""), first) if text)


def rub_out(entry: Entry, *, recorded_by: Person, token: Any = None) -> Entry:
    """One's own entry, written less than five minutes ago, is voided; the reason fills itself in."""
    if not may_rub_out(entry, recorded_by) and not sent_before(token):
        raise Refused(_("Rubbing out ends five minutes after writing. A lead can void it, with a reason."))
    return strike(entry, recorded_by=recorded_by, token=token)


@transaction.atomic
def strike(entry: Entry, *, recorded_by: Person, token: Any = None) -> Entry:
    """Voids what was rubbed out, and with it the hold and the readings that were written with it.

    That hold by itself is answered, not rubbed out.
    """
    first = unseen.held_with_it(entry)
    if first is not None and first.kind == "pull":
        raise Refused(_("It was held with the pull. Say of the pull whether the tool is marked, or rub that out."))
    if first is not None:
        raise Refused(_("It was held with the cut or the check. Rub that out, and it is held no longer."))
    held = unseen.hold_of(entry)
    if held is not None:
        pull, other = _("the pull was rubbed out"), _("what it was held with was rubbed out")
        why = pull if entry.kind == "pull" else other
        unseen.take_back(held, reason=why, by=entry.by, recorded_by=recorded_by)
    for one in (*readings_with(entry), *freed_with(entry)):
        _void(one, reason=_("what it was written with was rubbed out"), by=one.by, recorded_by=recorded_by)
    return _void(entry, reason=_("rubbed out at once"), by=entry.by, recorded_by=recorded_by, token=token)


def may_rub_out(entry: Entry, person: Person) -> bool:
    """True for what was written from the same sign-in within the last five minutes."""
    return entry.recorded_by_id == person.pk and clock.now() - entry.recorded_at <= RUB_OUT_WITHIN


def sent_before(*tokens: Any) -> bool:
    """Whether a form with one of these tokens was written already: it gets its first answer again, however late."""
    return Entry.objects.filter(token__in=[token for token in tokens if token is not None]).exists()


def facts_of(entry: Entry) -> dict[str, Any]:
    """What an entry says, by the names under which a deed says it."""
    columns = {
        "count": entry.count,
        "area": entry.area,
        "came_off": entry.came_off,
        "film": entry.film,
        "part": entry.part,
        "serial": entry.serial,
        "release_system": entry.release_system,
        "earliest_pull": entry.earliest_pull,
        "mold": entry.mold,
    }
    return {**columns, **{name: value for name, value in entry.payload.items() if name != "asked"}}


def _wants_reason(reason: str) -> None:
    if not reason.strip():
        raise Refused(_("Say why: the history keeps the reason beside what was struck through."), "reason")
