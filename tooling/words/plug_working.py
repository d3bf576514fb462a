"""How the numbers of a pass came about: what went in, the formula in words, its source; and its section."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from tooling.drawing.clearance import Setting
from tooling.drawing.clearance_words import Said
from tooling.models import Pass
from tooling.words.measures import measure
from tooling.words.plug_changes import called
from tooling.words.sizes import counting, given, worked


def working(one: Any, units: str) -> tuple[str, ...]:
    """Of a pass (selectors/plug.py), in the units that it was asked for."""
    return (*_scallop(one, units), *_time(one, units), *_wall(one, units), *_lacking(one))


def _scallop(one: Any, units: str) -> Iterator[str]:
    if one.scallop_mm is None:
        return
    row = one.row
    said = {
        "step": given(row, "step_over_mm", units),
        "ball": given(row, "ball_diameter_mm", units),
        "slope": f"{row.slope_deg or Decimal(0):f}",
        "size": counting(one.scallop_mm, units),
    }
    text = _(
        "Scallop: R less the square root of (R² less the square of half the step along the surface), with R half of "
        "the ball %(ball)s and the step %(step)s by the cosine of %(slope)s° = %(size)s. (Geometry of two circles.)"
    )
    yield text % said
    if row.slope_deg is None:
        yield _("No slope was said: it is reckoned flat. On a slope across the step the scallop is higher.")


def _time(one: Any, units: str) -> Iterator[str]:
    if one.planned is None:
        return
    row, planned = one.row, one.planned
    way = measure_of_way(planned.path_length, units)
    said = {
        "width": given(row, "width_mm", units), "step": given(row, "step_over_mm", units), "n": planned.passes,
        "length": given(row, "length_mm", units), "way": way,
        "feed": measure(row.feed_mm_min, "mm/min", units, row.as_typed.get("feed_mm_min")),
        "minutes": f"{planned.minutes:.0f}",
    }  # fmt: skip
    yield _("Times along: %(width)s by %(step)s, rounded up, and one more = %(n)d.") % said
    if row.both_ways:
        yield _("Way: %(n)d times %(length)s = %(way)s; at %(feed)s %(minutes)s minutes.") % said
    else:
        yield _("Way: %(n)d times %(length)s, there and back = %(way)s; at %(feed)s %(minutes)s minutes.") % said
    yield _(
        "A count of lines (common practice, no source). The steps from pass to pass, the turns and where the machine "
        "slows down are not in it: it takes longer."
    )
    if row.kind != Pass.ROUGHING and row.minutes_taken is not None and planned.minutes >= 1:
        more = round(100 * (float(row.minutes_taken) / planned.minutes - 1))
        text = _("It took %(n)d %% longer than that.") if more >= 0 else _("It took %(n)d %% less than that.")
        yield text % {"n": abs(more)}


def measure_of_way(length_mm: float, units: str) -> str:
    """A long way in metres or feet."""
    return str(measure(Decimal(str(round(length_mm / 1000, 1))), "m", units))


def _wall(one: Any, units: str) -> Iterator[str]:
    wall, row = one.wall, one.row
    if wall is None:
        return
    said = {
        "angle": f"{row.wall_angle_deg:f}", "lean": f"{90 - row.wall_angle_deg:f}",
        "out": given(row, "stickout_mm", units), "height": given(row, "wall_height_mm", units),
        "holder": given(row, "holder_diameter_mm", units), "least": worked(wall.least_stickout, units),
        "steepest": f"{wall.steepest_angle_deg:.1f}",
    }  # fmt: skip
    if wall.at_holder is None:
        yield _("The wall is %(height)s high and the cutter %(out)s out: the holder stays above it.") % said
    else:
        said |= {"far": worked(wall.at_holder, units), "size": signed(wall.clearance, units)}
        text = _(
            "From the axis to the wall beside the holder: (R + z · sin d) / cos d = %(far)s, with d = 90° less "
            "%(angle)s° = %(lean)s° and z = %(out)s less R."
        )
        yield text % said
        yield _("That less half of the holder, %(holder)s across = %(size)s.") % said
        yield _("Steepest wall as high as this that it would clear: %(steepest)s°.") % said
    yield _("Least that the cutter has to be out for this wall: %(least)s.") % said
    yield _(
        "Geometry of a circle that touches a line: the tool upright, its ball at the foot of a plane wall. Bending, "
        "spindle, clamps, base and what else stands near are not in it: leave room, and try it above the plug first."
    )


def _lacking(one: Any) -> Iterator[str]:
    """What somebody may want to say, so that more can be worked out."""
    row = one.row
    wanted = []
    if row.kind in Pass.BALL and one.scallop_mm is None:
        wanted.append(_("the scallop (ball diameter, step-over)"))
    if one.planned is None:
        wanted.append(_("the minutes (width, length, step-over, feed)"))
    if one.wall is None:
        wanted.append(_("whether the holder clears (ball, holder, cutter out of it, height and angle of the wall)"))
    if wanted:
        yield _("Not worked out, since sizes are not said: %(what)s.") % {"what": "; ".join(wanted)}


def signed(mm: float, units: str) -> str:
    """A distance that may be below 0."""
    return ("\N{MINUS SIGN}" if mm < 0 else "") + counting(abs(mm), units)


def setting(one: Any) -> Setting | None:
    """What the section of a pass is drawn from; None where a size is not known."""
    row = one.row
    if one.wall is None:
        return None
    return Setting(
        ball=float(row.ball_diameter_mm),
        holder=float(row.holder_diameter_mm),
        stickout=float(row.stickout_mm),
        height=float(row.wall_height_mm),
        angle_deg=float(row.wall_angle_deg),
        found=one.wall,
    )


def section_said(one: Any, units: str) -> Said:
    """The words of its section."""
    row, wall = one.row, one.wall
    out, height = given(row, "stickout_mm", units), given(row, "wall_height_mm", units)
    holder = _("holder %(size)s") % {"size": given(row, "holder_diameter_mm", units)}
    ball = _("ball %(size)s") % {"size": given(row, "ball_diameter_mm", units)}
    between, angle = _between(wall, units), f"{row.wall_angle_deg:f}°"
    out_said, wall_said = (_("cutter out"), out), (_("wall"), height)
    whole = _("wall at %(angle)s") % {"angle": angle}
    told = [holder, ball, " ".join(out_said), " ".join(wall_said), whole, between]
    return Said(
        title=_("%(pass)s: cutter and holder beside the steepest wall, in section") % {"pass": called(row)},
        told=" ".join(f"{words}." for words in (*told, _("To scale"))),
        holder=holder, ball=ball, between=between, angle=angle, stickout=out_said, wall=wall_said,
    )  # fmt: skip


def _between(wall: Any, units: str) -> str:
    if wall.at_holder is None:
        return _("wall ends %(size)s below the holder") % {"size": worked(wall.above, units)}
    if wall.clears:
        return _("holder to wall %(size)s") % {"size": counting(wall.clearance, units)}
    return _("holder %(size)s in the wall") % {"size": counting(-wall.clearance, units)}
