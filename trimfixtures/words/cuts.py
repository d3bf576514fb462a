"""How the numbers of a cut came about: what went in, the formula in words, its source."""

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.counting import capital
from trimfixtures.models import Kept, Method
from trimfixtures.words.sizes import given, worked

# Below this no reader's unit shows a difference.
_NOTHING_MM = 0.0005


def working(cut: Any) -> tuple[str, ...]:
    """Of a cut (selectors/cuts.py), in the units that it was asked for."""
    return (*_went_in(cut), *_offset(cut), *_opening(cut), *_fit(cut), *_way(cut), *_source(cut))


def _went_in(cut: Any) -> Iterator[str]:
    feature = cut.feature
    if feature.method in Method.ROUTED:
        yield _taken(cut, _guide_of(feature), feature.bushing, "bushing_mm")
    if feature.method in Method.ROUTED or feature.method == Method.DRILL or cut.cutter_mm is not None:
        name = _("drill") if feature.method == Method.DRILL else _("cutter")
        yield _taken(cut, name, feature.cutter, "cutter_mm")


def _guide_of(feature: Any) -> str:
    return _("guide bushing") if feature.method == Method.GUIDE_BUSHING else _("bearing")


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
    words = {"guide": _guide_of(feature), "size": size}
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
        "guide": _guide_of(cut.feature),
    }
    if cut.opening.width == cut.opening.length:
        yield _("Opening: the cut and twice %(offset)s = %(width)s across.") % sizes
    else:
        yield _("Opening: the cut and twice %(offset)s = %(width)s wide, %(length)s long.") % sizes
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
    parts = (
        (_("opening"), cut.fit.from_opening),
        (_("bearing") if feature.method == Method.BEARING else _("guide bushing"), cut.fit.from_bushing),
        (_("drill") if feature.method == Method.DRILL else _("cutter"), cut.fit.from_cutter),
    )
    listed = ", ".join(f"{name} {how_off(size, cut.units)}" for name, size in parts if abs(size) >= _NOTHING_MM)
    sentence = _("By what was measured, half of what each is off: %(error)s.")
    words = {"error": how_off(cut.fit.error, cut.units), "parts": listed}
    if listed.count(",") or (listed and abs(cut.fit.error) < _NOTHING_MM):
        sentence = _("By what was measured, half of what each is off: %(error)s (%(parts)s).")
    yield sentence % words
    if tolerance := given(feature, "tolerance_mm", cut.units):
        within = _("These sizes alone stay within its tolerance of %(size)s.")
        beyond = _("These sizes alone go beyond its tolerance of %(size)s.")
        yield (beyond if cut.off else within) % {"size": tolerance}
    yield _(
        "Worked out from sizes, no edge was measured: run-out, a guide off its axis, pressure, how the trim mask sits "
        "and how coarsely the sizes were read are not in it."
    )


def how_off(error_mm: float, units: str) -> str:
    """How far an edge is off its line: 0.1 mm too deep, or 0.1 mm left."""
    if abs(error_mm) < _NOTHING_MM:
        return _("on the line")
    size = {"size": worked(abs(error_mm), units)}
    return _("%(size)s left") % size if error_mm > 0 else _("%(size)s too deep") % size


def _way(cut: Any) -> Iterator[str]:
    if cut.metres is not None:
        yield _("Way of the cut: %(metres)s m.") % {"metres": f"{cut.metres:.2f}"}


def _source(cut: Any) -> Iterator[str]:
    if cut.offset_mm is None or cut.feature.method not in Method.ROUTED:
        return
    yield _("Common practice, no source: %(guide)s and cutter turn about one axis.") % {"guide": _guide_of(cut.feature)}
