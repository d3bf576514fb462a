"""How the numbers of a cut came about: what went in, the formula in words, its source."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.counting import capital
from tooling.words.measures import measure
from tooling.words.sizes import closely, given, worked
from trimfixtures.models import Kept, Method
from trimfixtures.words import fit


def working(cut: Any) -> tuple[str, ...]:
    """Of a cut (selectors/cuts.py), in the units that it was asked for."""
    return (*_went_in(cut), *_offset(cut), *_opening(cut), *_fit(cut), *_way(cut), *_source(cut))


def _went_in(cut: Any) -> Iterator[str]:
    feature = cut.feature
    if feature.method in Method.ROUTED:
        yield _taken(cut, fit.guide_of(feature), feature.bushing, "bushing_mm")
    if feature.method in Method.ROUTED or feature.method == Method.DRILL or cut.cutter_mm is not None:
        yield _taken(cut, fit.turns(feature), feature.cutter, "cutter_mm")


def _taken(cut: Any, name: str, one: Any, column: str) -> str:
    """A cutter or bushing with its size; that of the library stands before one that is only written here."""
    own = one is None or one.nominal_mm is None
    size = given(cut.feature, column, cut.units) if own else given(one, "nominal_mm", cut.units)
    words = {"name": capital(name), "code": one.code if one is not None else "", "size": size or _("not known")}
    measured = given(one, "measured_mm", cut.units) if one is not None else ""
    if measured:
        return _("%(name)s %(code)s: %(size)s, measured %(measured)s.") % {**words, "measured": measured}
    return (_("%(name)s %(code)s: %(size)s.") if one is not None else _("%(name)s: %(size)s.")) % words


def _offset(cut: Any) -> Iterator[str]:
    if cut.offset_mm is None:
        return
    feature, size = cut.feature, worked(cut.offset_mm, cut.units)
    if feature.method not in Method.ROUTED:
        yield (
            _("The cut lies along the guiding edge.")
            if feature.kept == Kept.MASK_SIDE
            else _("The kept piece begins where the cut ends, %(size)s from the guiding edge.") % {"size": size}
        )
        return
    words = {"guide": fit.guide_of(feature), "size": size}
    yield (
        _("From the guiding edge to the kept piece: half of (%(guide)s less cutter) = %(size)s.") % words
        if feature.kept == Kept.MASK_SIDE
        else _("From the guiding edge to the kept piece: half of (%(guide)s and cutter) = %(size)s.") % words
    )


def _opening(cut: Any) -> Iterator[str]:
    if cut.opening is None:
        return
    sizes = {
        "width": worked(cut.opening.width, cut.units),
        "length": worked(cut.opening.length, cut.units),
        "offset": worked(cut.offset_mm, cut.units),
        "guided": worked(cut.opening.smallest_inside_radius, cut.units),
        "left": worked(cut.opening.smallest_cut_radius, cut.units),
        "guide": fit.guide_of(cut.feature),
    }
    if cut.opening.width == cut.opening.length:
        yield _("Opening: the cut and twice %(offset)s = %(width)s across.") % sizes
    else:
        yield _("Opening: the cut and twice %(offset)s = %(width)s wide, %(length)s long.") % sizes
    if cut.opening_corner_mm is not None:
        sizes["corner"] = given(cut.feature, "corner_mm", cut.units)
        sizes["radius"] = worked(cut.opening_corner_mm, cut.units)
        yield _("Corners of the opening: R %(corner)s of the cut and %(offset)s = R %(radius)s.") % sizes
    yield _("Least radius of a corner in the opening: half the %(guide)s = %(guided)s.") % sizes
    if cut.feature.kept == Kept.MASK_SIDE:
        yield _("Least radius of a corner in the cut: half the cutter = %(left)s.") % sizes


def _fit(cut: Any) -> Iterator[str]:
    if cut.fit is None:
        return
    feature = cut.feature
    opening = given(feature, "opening_mm", cut.units)
    if opening and feature.is_inside:
        yield _("Opening measured: %(size)s wide.") % {"size": opening}
    yield from _as_is(cut)
    if cut.over_mm is not None:
        yield _("By what was measured: %(error)s.") % {"error": fit.off_by(cut, cut.units) or _("true to size")}
    else:
        yield _half_of_each(cut)
    if tolerance := fit.tolerance(feature, cut.units):
        within = _("These sizes alone stay within its tolerance of %(size)s.")
        beyond = _("These sizes alone go beyond its tolerance of %(size)s.")
        yield (beyond if cut.off else within) % {"size": tolerance}
    yield _(
        "Worked out from sizes, no edge was measured: run-out, a guide off its axis, pressure, how the trim mask sits "
        "and how coarsely the sizes were read are not in it."
    )


def _as_is(cut: Any) -> Iterator[str]:
    if cut.as_is is None:
        return
    more = cut.as_is.width - float(cut.feature.opening_mm)
    sizes = {"width": closely(cut.as_is.width, cut.units), "twice": closely(abs(more), cut.units)}
    if more <= 0:
        text = _("With this opening: its width less %(twice)s, twice the offset by what was measured = %(width)s wide.")
    else:
        text = _("With this opening: its width and %(twice)s, twice the offset by what was measured = %(width)s wide.")
    yield text % sizes


def _half_of_each(cut: Any) -> str:
    listed = ", ".join(
        f"{name} {how_off(size, cut.units)}" for _column, name, size in fit.parts(cut) if abs(size) >= fit.NOTHING_MM
    )
    sentence = _("By what was measured, half of what each is off: %(error)s.")
    words = {"error": how_off(cut.fit.error, cut.units), "parts": listed}
    if listed.count(",") or (listed and abs(cut.fit.error) < fit.NOTHING_MM):
        sentence = _("By what was measured, half of what each is off: %(error)s (%(parts)s).")
    return sentence % words


def how_off(error_mm: float, units: str) -> str:
    """How far an edge is off its line: 0.1 mm too deep, or 0.1 mm left."""
    if abs(error_mm) < fit.NOTHING_MM:
        return _("on the line")
    size = {"size": closely(abs(error_mm), units)}
    return _("%(size)s left") % size if error_mm > 0 else _("%(size)s too deep") % size


def _way(cut: Any) -> Iterator[str]:
    if cut.metres is not None:
        yield _("Way of the cut: %(length)s.") % {"length": way(cut.metres, cut.units)}


def way(metres: float, units: str) -> str:
    """How far a cut goes: 2.1 m, or about so many feet."""
    return str(measure(Decimal(str(round(metres, 2))), "m", units))


def _source(cut: Any) -> Iterator[str]:
    if cut.offset_mm is None or cut.feature.method not in Method.ROUTED:
        return
    yield _("Common practice, no source: %(guide)s and cutter turn about one axis.") % {
        "guide": fit.guide_of(cut.feature)
    }
