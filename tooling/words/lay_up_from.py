"""From when a part can be laid up, in a sentence; and why no time can be said, with what to change."""

from collections.abc import Iterable
from datetime import datetime, timedelta, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.when import clock_or_when, whole_minute

FILM = "film"
_STEPS = {
    "strip": gettext_lazy("the strip"),
    "sealer": gettext_lazy("a coat of sealer"),
    "coat": gettext_lazy("a coat"),
    FILM: gettext_lazy("the film"),
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


def sentence(found: Any, now: datetime, zone: tzinfo) -> str:
    """Can be laid up from 14:10 if waxing starts now. Without a full stop: it stands as a heading as well."""
    if found.cannot is not None:
        return str(found.cannot.text)
    if found.wanted is not None:
        return _start_by(found, now, zone)
    if found.now:
        return _("Can be laid up now")
    said = {"time": clock_or_when(whole_minute(found.lay_up_at), now, zone)}
    if found.starts_at is None:
        return _waits(found, said["time"], now, zone)
    said["begins"] = _begins(found.works)
    if found.starts_at <= found.at:
        return _("Can be laid up from %(time)s if %(begins)s now") % said
    said["start"] = clock_or_when(whole_minute(found.starts_at), now, zone)
    text = _("Can be laid up from %(time)s if %(begins)s %(start)s") % said
    inside = [one for one in found.works if one.out_at is not None and one.out_at > found.at and one.steps]
    return f"{text}: {_part_in(inside[0], now, zone)}" if inside else text


def _start_by(found: Any, now: datetime, zone: tzinfo) -> str:
    said = {"wanted": clock_or_when(found.wanted, now, zone)}
    if found.starts_at is None:
        inside = [one.tool.code for one in found.works if one.out_at is not None]
        if inside:
            said["tools"] = ", ".join(inside)
            return _("The part in %(tools)s comes out before: can be laid up %(wanted)s") % said
        if found.put_in:
            said["inserts"] = ", ".join(found.put_in)
            return _("%(inserts)s goes in before: can be laid up %(wanted)s") % said
        return _("Nothing to do before: can be laid up %(wanted)s") % said
    if found.starts_at - found.at < timedelta(minutes=1):
        return _("Start now to lay up %(wanted)s") % said
    # The minute that has begun: started a minute later it would be too late.
    said["start"] = clock_or_when(found.starts_at.replace(second=0, microsecond=0), now, zone)
    return _("Start by %(start)s to lay up %(wanted)s") % said


def _waits(found: Any, time: str, now: datetime, zone: tzinfo) -> str:
    """Nothing to do but to wait: for a part, a cure, a day, or for the shop to open."""
    inside = [one.tool.code for one in found.works if one.out_at is not None and one.out_at <= found.at]
    if found.lay_up_at <= found.at and not inside:
        said = {"inserts": ", ".join(found.put_in)}
        return (
            ngettext(
                "Can be laid up as soon as %(inserts)s is in its mold",
                "Can be laid up as soon as %(inserts)s are in their mold",
                len(found.put_in),
            )
            % said
        )
    if found.lay_up_at <= found.at:
        return _("Can be laid up as soon as the part in %(tools)s is out") % {"tools": ", ".join(inside)}
    last = max(found.works, key=lambda one: one.ready_at)
    if last.ready_at <= found.at and inside:
        said = {"time": time, "tools": ", ".join(inside)}
        return _("Can be laid up from %(time)s if the part in %(tools)s is out") % said
    if last.ready_at <= found.at:
        return _("Can be laid up from %(time)s, when the shop opens") % {"time": time}
    text = _("Can be laid up from %(time)s") % {"time": time}
    return f"{text}: {_waits_for(last, found, now, zone)}"


def _waits_for(last: Any, found: Any, now: datetime, zone: tzinfo) -> str:
    until_then = found.lay_up_at == last.ready_at
    said = {"tool": last.tool.code, "time": clock_or_when(whole_minute(last.ready_at), now, zone)}
    if last.ready_at == last.out_at:
        return _("%(tool)s has a part in it until then") % said if until_then else _part_in(last, now, zone)
    if last.ready_at == last.not_before:
        return _("%(tool)s is not to be used before %(time)s") % said
    if last.dries:
        return _("the film on %(tool)s dries until %(time)s") % said
    return _("the coat on %(tool)s cures until %(time)s") % said


def _part_in(one: Any, now: datetime, zone: tzinfo) -> str:
    time = clock_or_when(whole_minute(one.out_at), now, zone)
    return _("%(tool)s has a part in it until %(time)s") % {"tool": one.tool.code, "time": time}


def _begins(works: Iterable[Any]) -> str:
    """Waxing where all of it is wax, releasing where all of it is semi-permanent, else work."""
    at_work = [one for one in works if one.steps]
    if all(step.name == FILM for one in at_work for step in one.steps):
        return _("the film goes on")
    families = {one.family for one in at_work}
    if families == {"paste_wax"}:
        return _("waxing starts")
    return _("releasing starts") if families == {"semi_permanent"} else _("work starts")


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


def wanted_far(wanted: datetime, now: datetime, zone: tzinfo) -> str:
    """A wanted time so far ahead that nothing is worked out for it."""
    text = _("%(wanted)s is more than 400 days ahead: choose an earlier time.")
    return text % {"wanted": clock_or_when(wanted, now, zone)}


def too_late(wanted: datetime, first: datetime, now: datetime, zone: tzinfo) -> str:
    """A wanted time that is too near."""
    said = {"wanted": clock_or_when(wanted, now, zone), "first": clock_or_when(whole_minute(first), now, zone)}
    return _("Too late for %(wanted)s: it can be laid up from %(first)s at the earliest.") % said


def out_not_known(tool: str) -> str:
    """An assumption: nobody said when the part may come out."""
    return _("Nobody said when the part in %(tool)s may come out: reckoned as if it came out now.") % {"tool": tool}


def not_measured() -> str:
    """An assumption: the recipe's waits."""
    return _("Shop temperature: not measured today. Reckoned with the waits of the recipe as they stand.")


def slower(degrees: str, factor: float, recipe: str) -> str:
    """How a cold shop was reckoned with."""
    text = _("%(degrees)s in the shop: the waits of %(recipe)s take %(factor)s times as long.")
    return text % {"degrees": degrees, "recipe": recipe, "factor": f"{factor:.2g}"}


def one_hand() -> str:
    """An assumption: nobody said how many hands there are."""
    return _("The shop’s settings do not say how many hands there are: reckoned with one.")


def no_way(code: str, tool: str, step: str) -> str:
    """Why no plan is possible, by the code of what was found; and what to change."""
    if code == "too_old" and not tool:
        code = "too_old_anyway"
    return str(_NO_WAY.get(code, _NO_WAY["horizon"])) % {"tool": tool, "step": str(_STEPS.get(step, step))}
