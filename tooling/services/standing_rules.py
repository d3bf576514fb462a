"""What a look that frees a tool may not be: by who held it, by who lacks the right, from before what it is to free."""

from collections.abc import Collection
from datetime import datetime, timedelta
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later

from shared.errors import Refused
from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, May, Person, Shop, Summary, Tool
from tooling.services.absorb import Rules
from tooling.services.rights import refuse_without
from tooling.services.who_held import TAKEN_BACK_WITHIN, all_who_held, hands_of_stop, hands_that_held, in_their_name
from tooling.words.when import when

SAME_HAND = later("Who held it cannot free it: with formal records on, another person looks at it.")


def check_free(tool: Tool, entry: Entry, made: Fact, rules: Rules, shop: Shop) -> None:
    """Refuses what formal records do not let free a tool; without them, and for any other entry, nothing.

    entry: as it is about to be written, `made` the same as the rules read it.
    """
    if not shop.formal_records:
        return
    if entry.voids is not None:
        _refuse_own_void(tool, entry, entry.voids)
    elif entry.kind == "inspected" and entry.payload.get("passed") is True:
        _refuse_own_look(tool, entry, hands_that_held(tool, entry, made, rules))


def _refuse_own_look(tool: Tool, entry: Entry, held: Collection[Any]) -> None:
    if entry.by_id is not None and entry.by_id in held:
        raise Refused(str(SAME_HAND), "by")
    refuse_without(entry.by, May.FREE, entry.at)


def refuse_writer(summary: Summary, by: Person | None, recorded_by: Person | None, at: datetime) -> None:
    """On a screen more than the name counts, with formal records on: who is signed in, and whoever wrote the stop down.

    At a station the PIN says whose hands it was, so that whoever wrote there before is nobody.
    """
    if not Shop.current().formal_records:
        return
    held, writer = all_who_held(summary), in_their_name(by, recorded_by)
    if by is not None and by.pk in held:
        raise Refused(str(SAME_HAND), "by")
    if writer is not None and writer.pk in held:
        text = _("%(writer)s held it and cannot write down for %(name)s that it is free: %(name)s signs in to say so.")
        raise Refused(text % {"writer": writer.name, "name": by or _("who looked")}, "by")
    refuse_without(by, May.FREE, at, writer=writer)


def _refuse_own_void(tool: Tool, entry: Entry, stop: Entry) -> None:
    """A tap of a moment ago is taken back by whoever made it; later, a void would free the tool by the same hand."""
    if entry.recorded_at - stop.recorded_at < TAKEN_BACK_WITHIN:
        return
    held = hands_of_stop(stop, Summary.objects.values_list("held_since", flat=True).get(tool=tool))
    if held & {entry.by_id, entry.recorded_by_id}:
        text = _("Who held it cannot void that: with formal records on, another person does, or looks and frees it.")
        raise Refused(text, "by")


def refuse_before_hold(summary: Summary, at: datetime | None, now: datetime, ago: timedelta | None = None) -> None:
    """Refuses a look that is to free a tool and is said for a time before all that holds it: it would free nothing.

    An import keeps such a look, flagged as one of a tool that was not on hold.
    """
    looked, held = at or now - (ago or timedelta()), summary.held_since
    if held is None or looked >= held:
        return
    zone = Shop.current().zone
    text = _("This look-over is said for %(looked)s. What holds %(tool)s began later, %(held)s: it would free nothing.")
    said = {"looked": when(looked, now, zone), "held": when(held, now, zone), "tool": summary.tool}
    raise Refused(
        f"{text % said} {_('Look again and say when, or tell the lead in words what was seen before.')}", "at"
    )
