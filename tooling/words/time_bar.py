"""How the time of a lay-up comes about, in words and as a time bar: what is done on each surface, and when it waits."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from itertools import pairwise
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.calc.hours import ShopHours
from tooling.drawing.time_scale import Scale, Span
from tooling.drawing.timebar import HANDS, PART, WAIT, Piece, SurfaceLine, TimeBar
from tooling.words.when import clock_or_when, whole_minute

STEPS = {
    "strip": gettext_lazy("strip"),
    "sealer": gettext_lazy("sealer"),
    "coat": gettext_lazy("coat"),
    "film": gettext_lazy("film"),
}
# Drawn for longer a day of the shop is narrower than a letter: the table says it all.
LONGEST = timedelta(days=62)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: what happens on a surface, from when to when, and until when it then waits (or None).

    inside: a part that comes out at the end of it, not before.
    """

    surface: str
    what: str
    begins: datetime
    ends: datetime
    waits_until: datetime | None
    inside: bool = False


def rows(found: Any) -> list[Row]:
    """All that the bar shows, for whoever does not see it; in the order of the set, then of time."""
    return [row for one in found.works for row in _rows(one, found.at)]


def time_bar(found: Any, hours: ShopHours, now: datetime, zone: tzinfo) -> TimeBar | None:
    """The bar; None where nothing has to be done and nothing is waited for, or for too long to be drawn."""
    if found.lay_up_at is None or not any(row.ends > found.at for row in rows(found)):
        return None
    begin = found.at if found.wanted is None else found.starts_at or found.at
    end = max([found.lay_up_at, *(row.waits_until or row.ends for row in rows(found))])
    if end - begin > LONGEST:
        return None
    windows = [Span(*window) for window in hours.open_between(begin, end)]
    first = clock_or_when(begin.replace(second=0, microsecond=0), now, zone)
    last = clock_or_when(whole_minute(found.lay_up_at), now, zone)
    return TimeBar(
        [_surface_line(one, found) for one in found.works],
        Scale(begin, end, windows, zone),
        found.lay_up_at,
        (_("now %(time)s") if begin == found.at else _("start %(time)s")) % {"time": first},
        (_("lay-up from %(time)s") if found.wanted is None else _("lay-up %(time)s")) % {"time": last},
    )


def surface(one: Any) -> str:
    """The code of a surface, with the part of it that is meant, if any."""
    return _("%(tool)s, %(area)s") % {"tool": one.tool.code, "area": one.area} if one.area else one.tool.code


def _rows(one: Any, at: datetime) -> Iterator[Row]:
    name = surface(one)
    if one.out_at is not None and one.out_at > at:
        yield Row(name, _("a part in it, not before"), at, one.out_at, None, inside=True)
    if one.ready_from is not None and one.ready_from > at and not one.steps:
        yield Row(name, _("the film dries") if one.dries else _("the coat cures"), at, one.ready_from, None)
    kinds = [step.name for step in one.steps]
    for place, step in enumerate(one.steps):
        what, many = str(STEPS[step.name]), kinds.count(step.name)
        if many > 1:
            said = {"what": what, "number": kinds[: place + 1].count(step.name), "many": many}
            what = _("%(what)s %(number)d of %(many)d") % said
        yield Row(name, what, step.starts, step.ends, step.waits_until if step.waits_until > step.ends else None)


def _surface_line(one: Any, found: Any) -> SurfaceLine:
    pieces = []
    if one.out_at is not None and one.out_at > found.at:
        pieces.append(Piece(PART, found.at, one.out_at))
    if one.ready_from is not None and one.ready_from > found.at and not one.steps:
        pieces.append(Piece(WAIT, found.at, one.ready_from))
    for step, then in pairwise([*one.steps, None]):
        pieces.append(Piece(HANDS, step.starts, step.ends))
        until = step.waits_until if then is None else min(step.waits_until, then.starts)
        if until > step.ends:
            pieces.append(Piece(WAIT, step.ends, until))
    return SurfaceLine(surface(one), tuple(pieces), "" if pieces else _("nothing to do"))
