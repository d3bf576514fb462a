"""A plug's record in words: how it sat and its passes, for its page and for paper."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, NamedTuple

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.units import METRIC
from tooling.models import MillingPass, Pass
from tooling.words import plug_wall
from tooling.words.counting import capital
from tooling.words.measures import measure
from tooling.words.plug_changes import called
from tooling.words.plug_working import working
from tooling.words.sizes import counting, given, times, unbroken
from tooling.words.when import lasting


class Fact(NamedTuple):
    """Something that is known, with its name; `strong`: what matters first."""

    name: str
    words: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class PassSaid:
    """One pass. `stops`: why it is not to be cut so. `working`: how its numbers come about."""

    of: Any
    name: str
    facts: tuple[Fact, ...]
    stops: tuple[str, ...]
    clears: str
    note: str
    working: tuple[str, ...]


def sat(record: Any) -> list[Fact]:
    """How it sat on the machine."""
    if record is None:
        return []
    degrees = "" if record.tilt_deg is None else f"{record.tilt_deg:f}°"
    tilt = ", ".join(filter(None, (degrees, record.tilt_about)))
    facts = [
        Fact(_("Base"), record.base), Fact(_("Milled from"), record.stock), Fact(_("Machine"), record.machine),
        Fact(_("Tilt"), tilt, strong=True), Fact(_("Zero"), record.zero, strong=True), Fact(_("Note"), record.note),
    ]  # fmt: skip
    return [fact for fact in facts if fact.words]


def set_up_like(of: Any) -> str:
    """What nobody has measured on a plug that was set up like another; "" where it was not, or all is said."""
    shape = MillingPass.OF_ITS_SHAPE
    if of.like is None or not any(getattr(one.row, name) is None for one in of.passes for name in shape):
        return ""
    return _("Slope, steepest wall, width and length are this plug’s own: measure them before it is cut.")


def passes_said(passes: list[Any], units: str) -> list[PassSaid]:
    """The passes in their order."""
    return [
        PassSaid(
            of=one,
            name=capital(called(one.row)),
            facts=tuple(_facts(one, units)),
            stops=tuple(plug_wall.stops(one, units)),
            clears=plug_wall.clears(one, units),
            note=one.row.note,
            working=working(one, units),
        )
        for one in passes
    ]


def _facts(one: Any, units: str) -> Iterator[Fact]:
    row = one.row
    ball = given(row, "ball_diameter_mm", units)
    is_new = ball and not re.search(rf"(?<![\d./]){re.escape(ball)}", row.cutter, re.IGNORECASE)
    cutter = ", ".join(filter(None, (row.cutter, _("ball Ø %(size)s") % {"size": ball} if is_new else "")))
    yield from _if_said(_("Cutter"), cutter, strong=True)
    for name, column in ((_("Step-over"), "step_over_mm"), (_("Step-down"), "step_down_mm")):
        yield from _if_said(name, given(row, column, units), strong=True)
    if row.feed_mm_min is not None:
        feed = str(measure(row.feed_mm_min, "mm/min", units, row.as_typed.get("feed_mm_min")))
        yield Fact(_("Feed"), feed if row.both_ways else _("%(feed)s, one way only") % {"feed": feed}, strong=True)
    if row.slope_deg is not None:
        yield Fact(_("Steepest slope"), _("%(number)s°, across the step") % {"number": f"{row.slope_deg:f}"})
    yield from _if_said(_("Covers"), times(given(row, "width_mm", units), given(row, "length_mm", units)))
    if one.scallop_mm is not None:
        text = _("%(size)s high, to be sanded off")
        if row.slope_deg is None:
            text = _("%(size)s high where it is flat, more on a slope; to be sanded off")
        yield Fact(_("Scallop left"), text % {"size": scallop(one.scallop_mm, units)}, strong=True)
    yield from _minutes(one)


def _minutes(one: Any) -> Iterator[Fact]:
    if one.planned is not None:
        said = {"time": _lasting(one.planned.minutes), "n": one.planned.passes}
        text = ngettext("%(time)s, %(n)d line", "%(time)s, %(n)d lines", one.planned.passes)
        name = _("Planned, each level") if one.row.kind == Pass.ROUGHING else _("Planned")
        yield Fact(name, text % said)
    if one.row.minutes_taken is not None:
        yield Fact(_("It took"), _lasting(float(one.row.minutes_taken)))


def scallop(mm: float, units: str) -> str:
    """How high a ridge is, no finer than a machine, a cutter or a board holds: under 0.01 mm or 0.0005 in."""
    least = 0.01 if units == METRIC else 0.0005 * 25.4
    return counting(mm, units) if mm >= least else _("under %(size)s") % {"size": counting(least, units)}


def _lasting(minutes: float) -> str:
    return lasting(timedelta(minutes=minutes)) if minutes >= 1 else _("less than a minute")


def _if_said(name: str, words: str, *, strong: bool = False) -> Iterator[Fact]:
    if words:
        yield Fact(name, unbroken(words), strong)


def in_short(record: Any, passes: Sequence[Any], units: str) -> list[str]:
    """A few sentences for the plug's own page; none where nothing is known."""
    facts = {fact.name: fact.words for fact in sat(record)}
    said = [f"{name}: {facts[name]}." for name in (_("Tilt"), _("Zero")) if name in facts]
    found = [" ".join(said)] if said else []
    if passes:
        names = "; ".join(called(one.row) for one in passes)
        text = ngettext("%(n)d pass: %(names)s.", "%(n)d passes: %(names)s.", len(passes))
        found.append(text % {"n": len(passes), "names": names})
    last = next((one for one in reversed(passes) if one.scallop_mm is not None), None)
    if last is not None:
        found.append(_("Scallop left to sand: %(size)s.") % {"size": scallop(last.scallop_mm, units)})
    to_cut = [one for one in passes if one.row.minutes_taken is None]
    found += [f"{capital(called(one.row))}: {words}" for one in to_cut for words in plug_wall.stops(one, units)]
    if not found and record is not None:
        found.append(_("How it sat is written down."))
    return found
