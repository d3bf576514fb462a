"""From when a part can be laid up, in a sentence; and why no time can be said, with what to change."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta, tzinfo
from itertools import groupby
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.when import clock_or_when, when, whole_minute

COAT, FILM = "coat", "film"
_STEPS = {
    "strip": gettext_lazy("the strip"),
    "sealer": gettext_lazy("a coat of sealer"),
    COAT: gettext_lazy("a coat"),
    FILM: gettext_lazy("the film"),
}
# In the order of the work, as a piece of a sentence that goes on with when.
_BEGINS = {
    "strip": gettext_lazy("the strip starts"),
    "sealer": gettext_lazy("the sealer goes on"),
    COAT: gettext_lazy("the coat goes on"),
    FILM: gettext_lazy("the film goes on"),
}
_FIRST_OF_SEVERAL = gettext_lazy("the first coat goes on")
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
    """Can be laid up from 14:10 if the strip starts now. Without a full stop: it stands as a heading as well."""
    if found.cannot is not None:
        return str(found.cannot.text)
    if found.wanted is not None:
        return _start_by(found, now, zone)
    if found.now:
        return _("Can be laid up now")
    said = {"time": clock_or_when(whole_minute(found.lay_up_at), now, zone)}
    if found.starts_at is None:
        return _waits(found, said["time"], now, zone)
    later = found.starts_at > found.at
    said["begins"], part = _begins(found.works), _still_in(found, now, zone)
    if part:
        text = _("Can be laid up from %(time)s at the earliest")
        if not later:
            text = _("Can be laid up from %(time)s at the earliest if %(begins)s now")
        return f"{text % said}: {part}"
    if not later:
        return _("Can be laid up from %(time)s if %(begins)s now") % said
    said["start"] = clock_or_when(whole_minute(found.starts_at), now, zone)
    return _("Can be laid up from %(time)s if %(begins)s %(start)s") % said


def _start_by(found: Any, now: datetime, zone: tzinfo) -> str:
    said = {"wanted": clock_or_when(found.wanted, now, zone)}
    if found.starts_at is None:
        inside = with_part(found.works)
        if inside:
            said["tools"] = _codes(inside)
            return _("The part in %(tools)s has to be hard and out before: can be laid up %(wanted)s") % said
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
    inside = [one for one in with_part(found.works) if one.out_at <= found.at]
    said = {"time": time, "tools": _codes(inside)}
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
        return _("Can be laid up as soon as the part in %(tools)s is hard and out") % said
    last = max(found.works, key=lambda one: one.ready_at)
    if last.ready_at <= found.at and inside:
        return _("Can be laid up from %(time)s if the part in %(tools)s is hard and out") % said
    if last.ready_at <= found.at:
        return _("Can be laid up from %(time)s, when the shop opens") % said
    if part := _still_in(found, now, zone):
        return _("Can be laid up from %(time)s at the earliest") % said + f": {part}"
    return _("Can be laid up from %(time)s") % said + f": {_waits_for(last, now, zone)}"


def _waits_for(last: Any, now: datetime, zone: tzinfo) -> str:
    said = {"tool": last.tool.code, "time": clock_or_when(whole_minute(last.ready_at), now, zone)}
    if last.ready_at == last.not_before:
        return _("%(tool)s is not to be used before %(time)s") % said
    if last.dries:
        return _("the film on %(tool)s dries until %(time)s") % said
    return _("the coat on %(tool)s cures until %(time)s") % said


def with_part(works: Iterable[Any]) -> list[Any]:
    """Those with a part in them; a mold insert is named only where no mold is that the same part is in."""
    inside = [one for one in works if one.out_at is not None]
    molds = {one.out_at for one in inside if one.tool.kind != "insert"}
    return [one for one in inside if one.tool.kind != "insert" or one.out_at not in molds]


def _codes(works: Iterable[Any]) -> str:
    return ", ".join(one.tool.code for one in works)


def _still_in(found: Any, now: datetime, zone: tzinfo) -> str:
    """The part that comes out last; "" where none has its time still to come."""
    inside = [one for one in with_part(found.works) if one.out_at > found.at]
    if not inside:
        return ""
    last = max(one.out_at for one in inside)
    said = {
        "tools": _codes(one for one in inside if one.out_at == last),
        "time": clock_or_when(whole_minute(last), now, zone),
    }
    if found.lay_up_at == last:
        return _("the part in %(tools)s may come out then, if it is hard") % said
    return _("the part in %(tools)s may come out from %(time)s, if it is hard then") % said


def _begins(works: Iterable[Any]) -> str:
    """The first work: of several that begin at once each kind."""
    steps = [step for one in works for step in one.steps]
    first = min(step.starts for step in steps)
    kinds = {step.name for step in steps if step.starts == first}
    several = sum(step.name == COAT for step in steps) > 1
    said = [_FIRST_OF_SEVERAL if name == COAT and several else _BEGINS[name] for name in _BEGINS if name in kinds]
    return _(" and ").join(map(str, said))


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


def by_the_record(*, hardware: bool) -> str:
    """What a time goes by, and what it does not say. hardware: whether the set has any."""
    text = _(
        "By the record: coats, film, holds and places. It does not say that a coat is hard or that the part will be "
        "fit: look, and check."
    )
    return f"{text} {_('Hardware is not counted.')}" if hardware else text


def told_to_lead(tools: Iterable[str]) -> str:
    """What no lead has seen yet."""
    return _("Told to the lead, not seen yet: %(tools)s.") % {"tools": ", ".join(tools)}


def not_yet_trimmed(tool: str) -> str:
    """A trim mask that may not be used holds no lay-up up."""
    return _("%(tool)s may not be used now: the part can be laid up, not yet trimmed.") % {"tool": tool}


def reckoned_out(works: Iterable[Any], at: datetime, zone: tzinfo) -> Iterator[str]:
    """An assumption: how and when the parts that are in them come out."""
    inside = sorted(with_part(works), key=_out)
    for (out_at, known), some in groupby(inside, key=_out):
        said = {"tools": _codes(some), "time": clock_or_when(whole_minute(out_at), at, zone)}
        if not known:
            text = _("Nobody said when the part in %(tools)s may come out: reckoned as if it were hard and free now.")
        elif out_at > at:
            text = _(
                "Reckoned as if the part in %(tools)s is hard at %(time)s, comes off free and is out when work starts."
            )
        else:
            text = _("Reckoned as if the part in %(tools)s is hard and comes off free.")
        yield text % said + " " + _("A hard pull makes more work.")


def _out(one: Any) -> tuple[datetime, bool]:
    return one.out_at, one.out_known


def not_measured() -> str:
    """An assumption: the recipe's waits."""
    return _("Shop temperature: not measured today. Reckoned with the waits of the recipe as they stand.")


def as_measured(degrees: str, at: datetime, now: datetime, zone: tzinfo) -> str:
    """An assumption: that the shop stays as it was measured."""
    said = {"degrees": degrees, "when": when(at, now, zone)}
    text = _("Reckoned with %(degrees)s, measured %(when)s, as if it stayed so.") % said
    return text + " " + _("If it gets cooler it takes longer: check that the coat is hard.")


def slower(degrees: str, factor: float, recipe: str) -> str:
    """How a cold shop was reckoned with."""
    text = _("%(degrees)s in the shop: the waits of %(recipe)s take %(factor)s times as long.")
    return text % {"degrees": degrees, "recipe": recipe, "factor": f"{factor:.2g}"}


def as_they_stand(recipe: str) -> str:
    """An assumption: a wait that does not go by the warmth of the shop, or that runs already."""
    text = _(
        "The waits of %(recipe)s are reckoned as they stand in the recipe. In a cooler shop they take longer: check "
        "that coat and film are hard and dry."
    )
    return text % {"recipe": recipe}


def one_hand() -> str:
    """An assumption: nobody said how many hands there are."""
    return _("The shop’s settings do not say how many hands there are: reckoned with one.")


def no_way(code: str, tool: str, step: str) -> str:
    """Why no plan is possible, by the code of what was found; and what to change."""
    if code == "too_old" and not tool:
        code = "too_old_anyway"
    return str(_NO_WAY.get(code, _NO_WAY["horizon"])) % {"tool": tool, "step": str(_STEPS.get(step, step))}
