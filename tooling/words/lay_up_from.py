"""From when a part can be laid up, or by when to start, in a sentence."""

from collections.abc import Iterable
from datetime import datetime, timedelta, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.when import clock_or_when, whole_minute

COAT, FILM = "coat", "film"
# In the order of the work, as a piece of a sentence that goes on with when.
_BEGINS = {
    "strip": gettext_lazy("the strip starts"),
    "sealer": gettext_lazy("the sealer goes on"),
    COAT: gettext_lazy("the coat goes on"),
    FILM: gettext_lazy("the film goes on"),
}
_FIRST_OF_SEVERAL = gettext_lazy("the first coat goes on")


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
            said["tools"] = codes(inside)
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
    said = {"time": time, "tools": codes(inside)}
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


def codes(works: Iterable[Any]) -> str:
    """The codes of the tools that these are about."""
    return ", ".join(one.tool.code for one in works)


def _still_in(found: Any, now: datetime, zone: tzinfo) -> str:
    """The part that comes out last; "" where none has its time still to come."""
    inside = [one for one in with_part(found.works) if one.out_at > found.at]
    if not inside:
        return ""
    last = max(one.out_at for one in inside)
    said = {
        "tools": codes(one for one in inside if one.out_at == last),
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
