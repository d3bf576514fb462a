"""With formal records an acceptance stays one of the tool that was looked at, on its evidence, by who might."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later

from shared.errors import Refused
from tooling.models import Entry, May, Shop, Tool
from tooling.selectors.rights import asked_for, might
from tooling.services.rights import refuse_without
from tooling.words.rights import lacking

# What an acceptance says of its evidence in words; each with what to do where a correction would empty it.
_EVIDENCE = {
    "design_ref": later("An acceptance stays held against a design: say which."),
    "design_revision": later("An acceptance stays held against a revision of its design: say which."),
    "note": later("An acceptance stays in words: say how it was found."),
}


def refuse_elsewhere(entry: Entry, tool: Tool) -> None:
    """Nobody looked at the other tool: what one was accepted on is no evidence of another."""
    if entry.kind == "accepted" and Shop.current().formal_records:
        text = _(
            "With formal records on an acceptance is of the tool that was looked at. Void it here by another reason, "
            "and accept %(tool)s on its own evidence."
        )
        raise Refused(text % {"tool": tool.code}, "tool")


def check_corrected(entry: Entry, shop: Shop) -> None:
    """For the ledger: a correction empties none of its evidence, and gives it to nobody who might not accept."""
    before = entry.replaces
    if not shop.formal_records or entry.kind != "accepted" or before is None:
        return
    for name, sentence in _EVIDENCE.items():
        if str(before.payload.get(name, "")).strip() and not str(entry.payload.get(name, "")).strip():
            raise Refused(str(sentence), name)
    if entry.by_id != before.by_id:
        refuse_without(entry.by, May.ACCEPT, entry.at)
    elif entry.by is not None and entry.at != before.at and asked_for(May.ACCEPT):
        day = entry.at.astimezone(shop.zone).date()
        if not might(entry.by, May.ACCEPT, day):
            raise Refused(lacking(entry.by, May.ACCEPT, day), "at")
