"""What the numbers of trim masks refuse, said as a sentence that tells what to change."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from shared.units import METRIC
from trimfixtures.calc.refusal import Refusal
from trimfixtures.words.sizes import worked

_SENTENCES = {
    "not_a_point": noop("Point %(number)s of the outline, “%(text)s”, is no x and y in mm. Write it as 900 300."),
    "too_few": noop("The outline has %(count)s points. It needs three at least: x y; x y; x y"),
    "too_many": noop("The outline has %(count)s points. More than %(most)s are not read: leave out what is straight."),
    "twice": noop("Points %(first)s and %(second)s of the outline are the same, %(text)s. Take one of them out."),
    "crosses_itself": noop(
        "The outline crosses itself: the line that begins at point %(first)s meets the one that begins at "
        "point %(second)s. Put the points in the order in which they follow each other around the part."
    ),
    "no_name": noop("A point of the check has no name. Write it as: bow @ 0; stern @ 900"),
    "sign_in_name": noop("“%(name)s”: the name of a point has no %(sign)s in it. Write it as: bow @ 0; stern @ 900"),
    "no_number": noop("“%(text)s” is no number in mm. Write it as 12.5"),
    "below_zero": noop("“%(name)s” is %(along)s along the outline, which begins at 0."),
    "name_twice": noop("Two points are called “%(name)s”. Each has a name of its own."),
}


def refused(refusal: Refusal, units: str = METRIC) -> str:
    """The refusal as screens and commands show it, lengths in the reader's units."""
    code = "name_twice" if refusal.code == "twice" and "name" in refusal.values else refusal.code
    lengths = {name: worked(value, units) for name, value in refusal.values.items() if isinstance(value, float)}
    return _(_SENTENCES[code]) % {**refusal.values, **lengths}
