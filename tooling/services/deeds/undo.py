"""Taking an entry back: a void, a correction, and rubbing out what was written a moment ago."""

from datetime import timedelta
from typing import Any, Unpack

from django.db import transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.models import Entry, Person, Picture, Wipe
from tooling.services.deeds import unseen
from tooling.services.deeds.base import Said
from tooling.services.ledger import record

RUB_OUT_WITHIN = timedelta(minutes=5)


def void(entry: Entry, *, reason: str, **said: Unpack[Said]) -> Entry:
    """The entry never was; it stays readable, struck through, with the reason."""
    _wants_reason(reason)
    return record(entry.tool, "void", voids=entry, reason=reason, **said)


@transaction.atomic
def correct(
    entry: Entry, *, reason: str, kind: str | None = None, changes: dict[str, Any], **said: Unpack[Said]
) -> Entry:
    """Another entry stands in the entry's place: the same facts but for the changes, and its own time if one is said.

    What the changes do not name is taken from the entry, if it stays of its kind; give None to empty a fact. The
    pictures that were given with the entry go along, and with a coat that it was wiped.
    """
    _wants_reason(reason)
    said.setdefault("at", entry.at)
    said.setdefault("by", entry.by)
    kind = kind or entry.kind
    facts = facts_of(entry) if kind == entry.kind else {"part": entry.part, "serial": entry.serial}
    new = record(entry.tool, kind, replaces=entry, **{**facts, **changes, "why": reason}, **said)
    Picture.objects.filter(entry=entry).update(entry=new)
    if new.kind == "coat":
        Wipe.objects.filter(coat=entry).update(coat=new)
    return new


def rub_out(entry: Entry, *, recorded_by: Person, token: Any = None) -> Entry:
    """One's own entry, written less than five minutes ago, is voided; the reason fills itself in."""
    if not may_rub_out(entry, recorded_by) and not sent_before(token):
        raise Refused(_("Rubbing out ends five minutes after writing. A lead can void it, with a reason."))
    return strike(entry, recorded_by=recorded_by, token=token)


@transaction.atomic
def strike(entry: Entry, *, recorded_by: Person, token: Any = None) -> Entry:
    """Voids what was rubbed out, and with a pull the hold that was written with it.

    That hold by itself is answered, not rubbed out.
    """
    if unseen.pull_of(entry) is not None:
        raise Refused(_("It was held with the pull. Say of the pull whether the tool is marked, or rub that out."))
    held = unseen.hold_of(entry) if entry.kind == "pull" else None
    if held is not None:
        unseen.take_back(held, reason=_("the pull was rubbed out"), by=entry.by, recorded_by=recorded_by)
    return void(entry, reason=_("rubbed out at once"), by=entry.by, recorded_by=recorded_by, token=token)


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
