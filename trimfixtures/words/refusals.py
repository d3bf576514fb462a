"""What the numbers of trim masks refuse, said as a sentence that tells what to change."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from shared.units import METRIC
from tooling.words.sizes import worked
from trimfixtures.calc.refusal import Refusal

_SENTENCES = {
    "not_a_point": noop("Point %(number)s of the outline, “%(text)s”, is no x and y in mm. Write it as 900 300."),
    "too_few": noop("The outline has %(count)s points. It needs three at least: x y; x y; x y"),
    "too_many": noop("The outline has %(count)s points. More than %(most)s are not read: leave out what is straight."),
    "twice": noop("Points %(first)s and %(second)s of the outline are the same, %(text)s. Take one of them out."),
    "crosses_itself": noop(
        "The outline crosses itself: the line that begins at point %(first)s meets the one that begins at "
        "point %(second)s. Put the points in the order in which they follow each other around the part."
    ),
    "off_outline": noop("%(along)s along is not on the outline, which is %(length)s around."),
    "no_name": noop("A point of the check has no name. Write it as: bow @ 0; stern @ 900"),
    "sign_in_name": noop("“%(name)s”: the name of a point has no %(sign)s in it. Write it as: bow @ 0; stern @ 900"),
    "no_number": noop("“%(text)s” is no number in mm. Write it as 12.5"),
    "below_zero": noop("“%(name)s” is %(along)s along the outline, which begins at 0."),
    "name_twice": noop("Two points are called “%(name)s”. Each has a name of its own."),
    "not_above_zero": noop("A size of %(size)s is not above 0: %(name)s."),
    "kept_unknown": noop("“%(kept)s” does not say which piece is kept."),
    "cutter_not_smaller": noop(
        "The cutter (%(cutter)s) is not smaller than the guide bushing that it turns in (%(bushing)s)."
    ),
    "smaller_than_cutter": noop("The cut (%(size)s) is smaller than its cutter (%(cutter)s)."),
    "smaller_than_bushing": noop("The opening (%(size)s) is smaller than the guide bushing (%(bushing)s)."),
    "smaller_than_run": noop("The opening (%(size)s) is smaller than what runs along its edge (%(run)s)."),
    "smaller_than_bearing": noop("The opening (%(size)s) is smaller than the bearing (%(bearing)s)."),
    "no_opening": noop("Nothing would be left of the trim mask: %(size)s less %(less)s."),
    "no_cut": noop("Nothing would be left between the cuts: %(size)s less %(less)s."),
    "corner_too_large": noop("The corner radius (%(corner)s) goes from 0 to half the narrower side (%(most)s)."),
    "no_method": noop("“%(method)s” is no way of cutting."),
    "no_cutter": noop("Say which cutter or drill it takes, or its diameter."),
    "no_bushing": noop("Say which guide bushing or bearing runs along the trim mask, or its diameter."),
    "drill_wider": noop("The drill (%(cutter)s) is wider than its drill bushing (%(bushing)s)."),
    "pilot_wider": noop("The pilot hole (%(pilot)s) is not smaller than the drill (%(cutter)s)."),
    "no_tolerances": noop("There is no tolerance to add up."),
    "tolerance_below_zero": noop("A tolerance (%(tolerance)s) is below 0."),
    "limit_missing": noop("Say how far off a point may be, since deviations were measured."),
    "nothing_found": noop("Say of one point at least what was found there."),
    "too_few_readings": noop("There are %(count)s readings. It needs two at least."),
    "limits_crossed": noop("The upper limit (%(upper)s) is not above the lower (%(lower)s)."),
}
_NAMES = {
    "bearing": noop("bearing"),
    "bushing": noop("guide bushing"),
    "cutter": noop("cutter"),
    "length": noop("length"),
    "opening": noop("opening"),
    "outline": noop("outline"),
    "radius": noop("radius"),
    "width": noop("width"),
}


def refused(refusal: Refusal, units: str = METRIC) -> str:
    """The refusal as screens and commands show it, lengths in the reader's units."""
    values = {
        name: worked(value, units) if isinstance(value, float) else value for name, value in refusal.values.items()
    }
    if refusal.code == "not_above_zero":
        values["name"] = _(_NAMES[str(values["name"])])
    return _(_SENTENCES[refusal.code]) % values


def not_drawn(refusal: Refusal, units: str, *, is_said: bool) -> str:
    """Why a cut has no section; is_said: what is wrong with its sizes stands beside it already."""
    why = _("its sizes cannot be so.") if is_said else refused(refusal, units)
    return _("Not drawn in section: %(why)s") % {"why": why}
