"""What a look that frees a tool may not be: by who held it, by who lacks the right, from before what it is to free."""

from datetime import datetime, timedelta

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, May, Shop, Summary, Tool
from tooling.services.absorb import Rules
from tooling.services.checks import same_hand_held
from tooling.services.rights import refuse_without
from tooling.words.when import when


def check_free(tool: Tool, entry: Entry, made: Fact, rules: Rules, shop: Shop) -> None:
    """Refuses what formal records do not let free a tool; without them, and for any other entry, nothing.

    entry: as it is about to be written, `made` the same as the rules read it.
    """
    if not shop.formal_records or entry.kind != "inspected" or entry.payload.get("passed") is not True:
        return
    if same_hand_held(tool, made, rules):
        raise Refused(_("Who held it cannot free it: with formal records on, another person looks at it."), "by")
    refuse_without(entry.by, May.FREE, entry.at)


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
