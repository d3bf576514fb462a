"""The hold that goes with an entry after which somebody has to look at the tool.

It is written in the same transaction, so that a page that is simply closed leaves no marked tool to be used. It goes
with a pull while nobody has looked whether the tool is marked, with a cut that spoiled something, and with a check that
failed. Whoever wrote a pull answers it a moment later: then it is voided, which puts a slip right, and frees nobody's
hold. Later it is a hold like any other.
"""

from typing import Any
from uuid import UUID, uuid5

from tooling.calc.entry import SPOILING
from tooling.models import Entry, Person
from tooling.services.deeds.alongside import in_place_of
from tooling.services.ledger import record
from tooling.words.own import held_with, not_looked

# After these the tool itself may be marked.
MARKING = ("stuck", "lost")
# The kinds of entries that a hold may go with.
OF_TRIM_MASKS = frozenset({"used", "check"})
HOLDING = OF_TRIM_MASKS | {"pull"}
# A hold is written right behind its entry, or behind what corrected that: among so many before it.
_NEAR = 50
_SPACE = UUID("6f2f2d0c-1b9e-4f5c-9f0f-6a4a1f6d6a52")


def wants_look(entry: Entry) -> bool:
    """Whether the tool may be marked or out of true, and nobody has looked."""
    if entry.kind == "used":
        return entry.payload.get("outcome") in SPOILING
    if entry.kind == "check":
        return entry.payload.get("passed") is False
    return entry.came_off in MARKING and entry.payload.get("tool_damaged") is None


def hold_until_looked(entry: Entry, recorded_by: Person | None) -> Entry:
    """Holds the tool from the moment of the entry on."""
    return record(
        entry.tool,
        "hold",
        reason=_why(entry),
        by=entry.by,
        recorded_by=recorded_by,
        at=entry.at,
        token=_token(entry),
    )


def hold_if_unseen(entry: Entry, recorded_by: Person | None) -> None:
    """The same where somebody has to look and it is not held with that yet; call it where the entry stands."""
    if wants_look(entry) and hold_of(entry) is None:
        hold_until_looked(entry, recorded_by)


def hold_said_again(held: Entry, entry: Entry) -> dict[str, Any]:
    """What the hold of a corrected entry says now, where that is something else; its time is that of the entry."""
    other = entry.kind != "pull" and wants_look(entry) and held.payload.get("reason") != _why(entry)
    if held.at == entry.at and not other:
        return {}
    changes = {"reason": _why(entry)} if other else {}
    return {"changes": changes, "at": entry.at, "token": _token(entry)}


def take_back(hold: Entry, *, reason: str, by: Person | None, recorded_by: Person | None) -> Entry:
    """Voids the hold: the same hands have looked, or what it went with was another or none."""
    return record(hold.tool, "void", voids=hold, reason=reason, by=by, recorded_by=recorded_by)


def hold_of(entry: Entry) -> Entry | None:
    """The hold that was written with the entry, or with what it was before it was put right; None once it is void."""
    if entry.kind not in HOLDING:
        return None
    tokens = [_token(one) for one in entry.with_earlier()]
    return Entry.objects.filter(token__in=tokens, tool=entry.tool, kind="hold").standing().first()


def held_with_it(hold: Entry) -> Entry | None:
    """The standing entry that a hold was written with; None for any other hold."""
    if hold.kind != "hold" or hold.token is None:
        return None
    before = Entry.objects.filter(tool=hold.tool, kind__in=HOLDING, number__lt=hold.number).order_by("-number")
    found = next((one for one in before.select_related("by", "replaces")[:_NEAR] if _token(one) == hold.token), None)
    found = in_place_of(found) if found is not None else None
    return found if found is not None and not found.voided_by.exists() else None


def _why(entry: Entry) -> str:
    if entry.kind == "used":
        return held_with(entry.payload["outcome"])
    return held_with("failed") if entry.kind == "check" else not_looked(entry.came_off)


def _token(entry: Entry) -> UUID:
    return uuid5(_SPACE, str(entry.pk))
