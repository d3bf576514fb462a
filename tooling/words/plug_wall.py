"""What a pass's holder has to do with the steepest wall, in words: on the page, on paper and in its section."""

from collections.abc import Iterator
from decimal import Decimal
from math import ceil, floor
from typing import Any

from django.utils.translation import gettext as _

from shared.units import METRIC
from tooling.words.sizes import counting, given, size, unbroken, worked

_INCH, _PARTS = Decimal("25.4"), 16
# What went through a calculation is not taken up to the next mark for its last digit.
_ROUNDED = 1e-6


def stops(one: Any, units: str) -> Iterator[str]:
    """Why a pass is not to be cut as it is set up; nothing where the holder clears, or nobody can say."""
    if one.wall is None or one.clears:
        return
    if one.wall.clears:
        found = _("The holder just touches the steepest wall, or all but: that is not clear.")
    else:
        found = _("The holder would be %(size)s in the steepest wall.")
        found %= {"size": counting(-one.wall.clearance, units)}
    text = _(
        "Put the cutter at least %(out)s out, take a narrower holder, or tilt the plug. A cutter that far out bends "
        "and sings: leave room."
    )
    yield unbroken(f"{found} {text % {'out': least_out(one, units)}}")


def clears(one: Any, units: str) -> str:
    """That the holder clears, and by how much; "" where it does not, or nobody can say."""
    wall = one.wall
    if wall is None or not one.clears:
        return ""
    if wall.at_holder is None:
        return _("The steepest wall ends %(size)s below the holder.") % {"size": worked(wall.above, units)}
    return _("The holder clears the steepest wall by %(size)s.") % {"size": counting(wall.clearance, units)}


def least_out(one: Any, units: str) -> str:
    """How far the cutter has to be out so that room is left: never less, in marks that a hand sets it to."""
    least = one.with_room.least_stickout
    if units == METRIC:
        return size(Decimal(ceil(least - _ROUNDED)), units)
    return size(ceil(least / float(_INCH) * _PARTS - _ROUNDED) * _INCH / _PARTS, units)


def working(one: Any, units: str) -> Iterator[str]:
    """How that came about."""
    wall, row = one.wall, one.row
    if wall is None:
        return
    said = {
        "angle": f"{row.wall_angle_deg:f}", "lean": f"{90 - row.wall_angle_deg:f}",
        "out": given(row, "stickout_mm", units), "height": given(row, "wall_height_mm", units),
        "holder": given(row, "holder_diameter_mm", units), "least": least_out(one, units),
        "steepest": f"{floor(10 * one.with_room.steepest_angle_deg) / 10:.1f}", "room": worked(one.ROOM_MM, units),
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
        yield _("Steepest wall as high as this that it would clear, with %(room)s of room: %(steepest)s°.") % said
    yield _("Least that the cutter has to be out for this wall, with %(room)s of room, rounded up: %(least)s.") % said
    yield _("Less room than that counts as touching: setting a cutter by hand uses it up (common practice, no source).")
    yield _(
        "Geometry of a circle that touches a line: the tool upright, its ball at the foot of a plane wall. Bending, "
        "the shank, what an earlier pass leaves on the wall, spindle, clamps, base and what else stands near are not "
        "in it: leave room, and try it above the plug first."
    )


def between(one: Any, units: str) -> str:
    """The same in the section, as short as there is room for."""
    wall = one.wall
    if not wall.clears:
        return _("holder %(size)s in the wall") % {"size": counting(-wall.clearance, units)}
    if not one.clears:
        return _("holder touches the wall")
    if wall.at_holder is None:
        return _("wall ends %(size)s below the holder") % {"size": worked(wall.above, units)}
    return _("holder to wall %(size)s") % {"size": counting(wall.clearance, units)}


def signed(mm: float, units: str) -> str:
    """A distance that may be below 0."""
    return ("\N{MINUS SIGN}" if mm < 0 else "") + counting(abs(mm), units)
