"""What is told to the lead, kept until a lead has seen it. The ledger calls `keep_told` with each entry it writes."""

from datetime import datetime

from tooling.models import Entry, LeadNote, Person


def keep_told(entry: Entry) -> None:
    """A note for the lead is there to be seen; a correction of one is seen where that was."""
    if entry.replaces_id is not None and LeadNote.objects.filter(entry=entry.replaces_id).update(entry=entry):
        return
    if entry.payload.get("for_lead"):
        LeadNote.objects.create(entry=entry)


def lead_saw(entry: Entry, *, by: Person, at: datetime) -> bool:
    """A lead has seen it; who saw it first stays. Whether that was now."""
    return bool(LeadNote.objects.filter(entry=entry, seen_at=None).update(seen_at=at, seen_by=by))
