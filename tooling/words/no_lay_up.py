"""Why no time can be said for a lay-up, with what to change."""

from datetime import datetime, tzinfo

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.words.when import clock_or_when, whole_minute

_STEPS = {
    "strip": gettext_lazy("the strip"),
    "sealer": gettext_lazy("a coat of sealer"),
    "coat": gettext_lazy("a coat"),
    "film": gettext_lazy("the film"),
}
_NO_WAY = {
    "no_week": gettext_lazy("No shop hours are written down: say in the shop’s settings when the shop is open."),
    "wrong_week": gettext_lazy("The shop hours are not possible: write them anew in the shop’s settings."),
    "no_hours": gettext_lazy(
        "The shop does not open within 400 days: look at its hours and closed days in the shop’s settings."
    ),
    "too_long": gettext_lazy(
        "%(tool)s: %(step)s takes longer than the shop is ever open at a stretch. Change the shop hours, or the "
        "minutes in the recipe."
    ),
    "longest_wait": gettext_lazy(
        "%(tool)s: the longest wait that the recipe allows behind %(step)s is too short for the shop hours. Look at "
        "the recipe, or change the shop hours."
    ),
    "too_old": gettext_lazy(
        "%(tool)s: %(step)s would be too old by then. Choose another time, later in a day of the shop."
    ),
    "too_old_anyway": gettext_lazy(
        "No coat or film stays good until all is ready. Look at how long the recipes say they are good, and at "
        "the shop hours."
    ),
    "hands": gettext_lazy(
        "So few hands cannot keep the waits of all these surfaces. Choose another time, or set more hands in the "
        "shop’s settings."
    ),
    "unsettled": gettext_lazy(
        "The days for which a coat is good run out before all is ready, again and again. Look at the limits of days in "
        "the recipes, and at the shop hours."
    ),
    "too_far": gettext_lazy(
        "%(tool)s is not ready within 400 days, and no time is worked out farther ahead. Look at the day before which "
        "it must not be used, and at when a part in it may come out."
    ),
    "horizon": gettext_lazy(
        "%(tool)s: %(step)s finds no place within 400 days. Look at the shop’s hours and closed days in its settings."
    ),
}


def said_of(tool: str, text: str) -> str:
    """A sentence with the tool that it is about."""
    return _("%(tool)s: %(text)s") % {"tool": tool, "text": text}


def stopped(tool: str, text: str, code: str) -> str:
    """A reason with the tool that it is about."""
    said = said_of(tool, text)
    first = {"shop_cold": warm_first, "shop_hot": cool_first}.get(code)
    return said if first is None else f"{said} {first()}"


def warm_first() -> str:
    """What mends a cold shop."""
    return _("Warm the shop first, and measure again.")


def cool_first() -> str:
    """What mends a hot one."""
    return _("Let the shop cool first, and measure again.")


def warmth(degrees: str, recipe: str, *, hot: bool) -> str:
    """A shop in which no time can be reckoned."""
    said = {"degrees": degrees, "recipe": recipe}
    if hot:
        return _("%(degrees)s in the shop is too warm for %(recipe)s.") % said + " " + cool_first()
    return _("%(degrees)s in the shop is too cold to reckon the waits of %(recipe)s.") % said + " " + warm_first()


def no_recipe(tool: str) -> str:
    """Nobody knows what has to go on it."""
    return _("%(tool)s has no release recipe: choose one first.") % {"tool": tool}


def wanted_past(wanted: datetime, now: datetime, zone: tzinfo) -> str:
    """A wanted time that nobody can keep."""
    return _("%(wanted)s is past: choose a later time.") % {"wanted": clock_or_when(wanted, now, zone)}


def closed_then(wanted: datetime, until: datetime, again: datetime, now: datetime, zone: tzinfo) -> str:
    """A wanted time at which nobody is there."""
    text = _("The shop is closed %(wanted)s: it is open until %(until)s, and again from %(again)s.")
    said = {"wanted": wanted, "until": until, "again": again}
    return text % {name: clock_or_when(at, now, zone) for name, at in said.items()}


def wanted_far(wanted: datetime, now: datetime, zone: tzinfo) -> str:
    """A wanted time so far ahead that nothing is worked out for it."""
    text = _("%(wanted)s is more than 400 days ahead: choose an earlier time.")
    return text % {"wanted": clock_or_when(wanted, now, zone)}


def too_late(wanted: datetime, first: datetime, now: datetime, zone: tzinfo) -> str:
    """A wanted time that is too near."""
    said = {"wanted": clock_or_when(wanted, now, zone), "first": clock_or_when(whole_minute(first), now, zone)}
    return _("Too late for %(wanted)s: it can be laid up from %(first)s at the earliest.") % said


def no_way(code: str, tool: str, step: str) -> str:
    """Why no plan is possible, by the code of what was found; and what to change."""
    if code == "too_old" and not tool:
        code = "too_old_anyway"
    return str(_NO_WAY.get(code, _NO_WAY["horizon"])) % {"tool": tool, "step": str(_STEPS.get(step, step))}
