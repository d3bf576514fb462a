"""How the numbers of a pass came about: what went in, the formula in words, its source; and its section."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from tooling.drawing.clearance import Setting
from tooling.drawing.clearance_words import Said
from tooling.models import Pass
from tooling.words import plug_wall
from tooling.words.measures import measure
from tooling.words.plug_changes import called
from tooling.words.sizes import counting, given, unbroken


def working(one: Any, units: str) -> tuple[str, ...]:
    """Of a pass (selectors/plug.py), in the units that it was asked for."""
    said = (*_scallop(one, units), *_time(one, units), *plug_wall.working(one, units), *_lacking(one))
    return tuple(map(unbroken, said))


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
        "Scallop: R − √(R² − a²) = %(size)s, with R = half of %(ball)s, a = half of %(step)s divided by cos %(slope)s°."
    )
    yield text % said
    yield _("Geometry of two circles: what machine, cutter and board leave is more.")
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
    yield _("Lines: %(width)s divided by %(step)s, rounded up, and one more = %(n)d.") % said
    if row.both_ways:
        yield _("Way: %(n)d lines of %(length)s = %(way)s; at %(feed)s %(minutes)s minutes.") % said
    else:
        yield _("Way: %(n)d lines of %(length)s, there and back = %(way)s; at %(feed)s %(minutes)s minutes.") % said
    yield _(
        "A count of lines (common practice, no source). The steps from line to line, the turns and where the machine "
        "slows down are not in it: it takes longer."
    )
    if row.kind != Pass.ROUGHING and row.minutes_taken is not None and planned.minutes >= 1:
        more = round(100 * (float(row.minutes_taken) / planned.minutes - 1))
        text = _("It took %(n)d %% longer than that.") if more >= 0 else _("It took %(n)d %% shorter than that.")
        yield text % {"n": abs(more)}


def measure_of_way(length_mm: float, units: str) -> str:
    """A long way in metres or feet."""
    return str(measure(Decimal(str(round(length_mm / 1000, 1))), "m", units))


def _lacking(one: Any) -> Iterator[str]:
    """What somebody may want to say, so that more can be worked out."""
    row = one.row
    wanted = [
        f"{what} ({', '.join(sizes)})"
        for what, columns in _asked(row)
        if (sizes := [str(row._meta.get_field(name).verbose_name) for name in columns if getattr(row, name) is None])
    ]
    if wanted:
        yield _("Not worked out, since sizes are not said: %(what)s.") % {"what": "; ".join(wanted)}


def _asked(row: Any) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What is worked out of a pass, and the columns that it takes."""
    if row.kind in Pass.BALL:
        yield _("the scallop"), row.OF_SCALLOP
    yield _("the minutes"), row.OF_TIME
    if row.kind in Pass.BALL or row.ball_diameter_mm is not None:
        yield _("whether the holder clears"), row.OF_WALL


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
    row = one.row
    out, height = given(row, "stickout_mm", units), given(row, "wall_height_mm", units)
    holder = _("holder %(size)s") % {"size": given(row, "holder_diameter_mm", units)}
    ball = _("ball %(size)s") % {"size": given(row, "ball_diameter_mm", units)}
    between, angle = plug_wall.between(one, units), f"{row.wall_angle_deg:f}°"
    out_said, wall_said = (_("cutter out"), out), (_("wall"), height)
    whole = _("wall at %(angle)s") % {"angle": angle}
    told = [holder, ball, " ".join(out_said), " ".join(wall_said), whole, between]
    return Said(
        title=_("%(pass)s: cutter and holder beside the steepest wall, in section") % {"pass": called(row)},
        told=" ".join(f"{words}." for words in (*told, _("To scale"))),
        holder=holder, ball=ball, between=between, angle=angle, stickout=out_said, wall=wall_said,
    )  # fmt: skip
