"""What is said of several tools that are coated in one go."""

from datetime import datetime, tzinfo

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.calc.ahead import Ahead
from tooling.words.coats import FURTHER, out_of_order
from tooling.words.counting import capital, in_words
from tooling.words.when import clock_or_when


def on_all(step: str, count: int) -> str:
    """One more coat on all six."""
    if count < 2:
        return str(FURTHER[step])
    said = {
        "sealer": _("One coat of sealer on %(all)s"),
        "coat": _("One more coat on %(all)s"),
        "film": _("Film on %(all)s"),
    }
    every = _("both") if count == 2 else _("all %(number)s") % {"number": in_words(count)}
    return said[step] % {"all": every}


def waits_for(step: str, on: int, wanted: int) -> str:
    """Coat 2 of 3: what a group of tools wants next."""
    if step == "coat":
        return _("Coat %(next)d of %(wanted)d") % {"next": on + 1, "wanted": wanted}
    return _("Sealer") if step == "sealer" else _("Film")


def number_of(count: int) -> str:
    """Six tools."""
    return capital(ngettext("%(number)s tool", "%(number)s tools", count) % {"number": in_words(count)})


def stands(plan: Ahead | None) -> str:
    """2 of 3 coats on; what is missing where none is."""
    if plan is None:
        return _("no release recipe")
    if plan.strip:
        return _("strip it first")
    on, wanted = plan.on or plan.complete, plan.wanted or plan.complete
    coats = _("%(on)d of %(wanted)d coats on") % {"on": on, "wanted": wanted} if wanted else _("no coat wanted")
    if plan.sealers:
        return _("%(coats)s, the sealer first") % {"coats": coats}
    return _("%(coats)s, then a film") % {"coats": coats} if plan.film else coats


def beforehand(plan: Ahead | None, what: str, now: datetime, zone: tzinfo) -> list[str]:
    """What follows from putting this on now; nothing where it goes on in its order and time."""
    if plan is None:
        return []
    said = []
    wait = {"coat": plan.next_at, "film": plan.ready_at}.get(what)
    if wait is not None and wait > now:
        said.append(_("Not before %(time)s.") % {"time": clock_or_when(wait, now, zone)})
    if plan.late:
        said.append(_("Later than its recipe allows between coats: written, and flagged."))
    if plan.strip:
        said.append(_("Strip it first: a coat on top does not change that."))
    but = out_of_order(plan, what)
    return [*said, but] if but else said
