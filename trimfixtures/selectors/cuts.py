"""The cuts of trim masks in their order: what guides each, how far off its guide it is made, whether its tools fit."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from shared.units import METRIC
from tooling.services.columns import values_of
from trimfixtures.calc import guide
from trimfixtures.calc.metres import metres_of_cut
from trimfixtures.calc.outline import around
from trimfixtures.calc.reach import past_outline
from trimfixtures.calc.refusal import Refusal
from trimfixtures.models import Cutter, CutterState, Feature, FeatureKind, Kept, Mask, Method
from trimfixtures.services.feature_rules import wrong_with
from trimfixtures.services.mask_rules import outline_of
from trimfixtures.words import cuts as words
from trimfixtures.words.refusals import refused as in_words

# Less than this is what arithmetic adds.
_NOTHING = 1e-9


@dataclass(frozen=True)
class Cut:
    """A cut and what follows from its sizes; None where a size for it is not known. Sizes in mm.

    cutter_mm, bushing_mm: as they are meant to be. fit: how far off the edge comes by what was measured; off: beyond
    the tolerance of the cut. gone, worn: of its cutter and guide bushing. refusal: why its sizes cannot be, "" if fine;
    what was right when it was written down may be wrong with another size in the library.
    """

    feature: Feature
    cutter_mm: Decimal | None
    bushing_mm: Decimal | None
    offset_mm: float | None
    opening: guide.Opening | None
    # What its opening cuts as it measures.
    as_is: guide.CutSize | None
    fit: guide.FitError | None
    off: bool
    metres: float | None
    gone: tuple[Cutter, ...]
    worn: tuple[Cutter, ...]
    refusal: str
    units: str = METRIC

    @property
    def over_mm(self) -> float | None:
        """How much larger than it should be a drilled hole comes, by its diameter; None of what is not drilled."""
        is_drilled = self.feature.method == Method.DRILL
        return -2 * self.fit.error if is_drilled and self.fit is not None else None

    @property
    def opening_corner_mm(self) -> float | None:
        """Radius of the corners of its opening; None where nobody said that of the cut, or its guide cannot follow."""
        corner = _mm(self.feature.corner_mm)
        if corner is None or self.opening is None or self.offset_mm is None or self.feature.kind == FeatureKind.HOLE:
            return None
        radius = corner + self.offset_mm
        return radius if radius + _NOTHING >= self.opening.smallest_inside_radius else None

    @cached_property
    def past_mm(self) -> float:
        """How far it reaches past the outline of the part; 0 where its place or its size is not known."""
        feature, outline = self.feature, outline_of(self.feature.mask.outline)
        width, length = _size(feature)
        if feature.method == Method.DRILL and width is None:
            width = length = _mm(self.cutter_mm)
        place = _mm(feature.x_mm), _mm(feature.y_mm)
        if outline is None or None in place or width is None or length is None or not feature.is_inside:
            return 0.0
        corner = width / 2 if feature.kind == FeatureKind.HOLE else _mm(feature.corner_mm) or 0.0
        return past_outline(outline, *place, length, width, corner)

    @property
    def working(self) -> tuple[str, ...]:
        """How the numbers came about: what went in, the formula in words, its source."""
        return words.working(self)


def cuts(mask: Mask, units: str = METRIC) -> list[Cut]:
    """The cuts of one trim mask in cutting order, in one query."""
    return cuts_of([mask], units)[mask.pk]


def cuts_of(masks: Iterable[Mask], units: str = METRIC, *, ruled: bool = True) -> dict[int, list[Cut]]:
    """The cuts of each, by its key, in cutting order; in one query for all.

    ruled: whether it is looked at again what cannot be said of a cut (`refusal`). That was asked when it was written,
    and goes through all points of the outline: not for what only wants to know what fits, is gone or worn, or how far.
    """
    by_key = {mask.pk: mask for mask in masks}
    found: dict[int, list[Cut]] = {key: [] for key in by_key}
    if not by_key:
        return found
    lengths = {key: around(mask.outline) for key, mask in by_key.items()}
    rows = Feature.objects.filter(mask__in=by_key).select_related("cutter", "bushing").in_order()
    for feature in rows:
        feature.mask = by_key[feature.mask_id]
        found[feature.mask_id].append(_cut(feature, lengths[feature.mask_id], units, ruled))
    return found


def _cut(feature: Feature, length: float | None, units: str, ruled: bool) -> Cut:
    wrong = list(wrong_with(values_of(feature), mask=feature.mask, units=units).values()) if ruled else []

    def tried(make, *args):
        """None where a size is missing or cannot be; the first thing that cannot be is said."""
        try:
            return make(feature, *args)
        except Refusal as error:
            wrong.append(in_words(error, units))
            return None

    offset = tried(_offset)
    opening = tried(_opening) if offset is not None else None
    metres = tried(_metres, length)
    as_is = tried(_as_is)
    fit = tried(_fit, offset)
    took = dict.fromkeys(one for one in (feature.cutter, feature.bushing) if one is not None)
    tolerance = feature.tolerance_mm
    return Cut(
        feature=feature,
        cutter_mm=feature.cutter_nominal,
        bushing_mm=feature.bushing_nominal,
        offset_mm=offset,
        opening=opening,
        as_is=as_is,
        fit=fit,
        off=fit is not None and tolerance is not None and _far(feature, fit) > float(tolerance) + _NOTHING,
        metres=metres,
        gone=tuple(one for one in took if one.state == CutterState.GONE),
        worn=tuple(one for one in took if one.state == CutterState.WORN),
        refusal=wrong[0] if wrong else "",
        units=units,
    )


def _offset(feature: Feature) -> float | None:
    bushing, cutter = _mm(feature.bushing_nominal), _mm(feature.cutter_nominal)
    if feature.method == Method.DRILL:
        return None
    if feature.method not in Method.ROUTED:
        # A blade or a point runs along the guiding edge itself; its kerf is lost on the other side.
        return 0.0 if feature.kept == Kept.MASK_SIDE else cutter
    if bushing is None or cutter is None:
        return None
    make = guide.guide_offset if feature.method == Method.GUIDE_BUSHING else guide.bearing_offset
    return make(bushing, cutter, feature.kept)


def _opening(feature: Feature) -> guide.Opening | None:
    """What the trim mask has for a cut inside the part."""
    width, length = _size(feature)
    if width is None or length is None or not feature.is_inside or feature.method not in Method.ROUTED:
        return None
    make = guide.mask_opening if feature.method == Method.GUIDE_BUSHING else guide.bearing_opening
    bushing, cutter = float(feature.bushing_nominal), float(feature.cutter_nominal)
    return make(width, length, bushing, cutter, kept=feature.kept)


def _size(feature: Feature) -> tuple[float | None, float | None]:
    """Width and length; a hole has one diameter."""
    width, length = _mm(feature.width_mm), _mm(feature.length_mm)
    if feature.kind == FeatureKind.HOLE:
        width = length = width if width is not None else length
    return width, length


def _fit(feature: Feature, offset: float | None) -> guide.FitError | None:
    """By what was measured of its opening, bushing and cutter; None where nothing was."""
    routed, drilled = feature.method in Method.ROUTED, feature.method == Method.DRILL
    width, wanted = _size(feature)[0], None
    if width is not None and offset is not None and feature.is_inside:
        wanted = width + 2 * offset
    opening = (_mm(feature.opening_mm), wanted)
    bushing = _both(feature.bushing, feature.bushing_nominal) if routed else (None, None)
    cutter = _both(feature.cutter, feature.cutter_nominal) if routed or drilled else (None, None)
    if drilled and feature.kind == FeatureKind.HOLE and width is not None:
        cutter = cutter[0], width  # the hole comes out as large as its drill
    if not any(None not in pair for pair in (opening, bushing, cutter)):
        return None
    return guide.fit_error(*opening, *bushing, *cutter, inside=feature.is_inside, kept=feature.kept)


def _far(feature: Feature, fit: guide.FitError) -> float:
    """What its tolerance is held against: the diameter of what is drilled, the edge of all else."""
    return abs(fit.error) * (2 if feature.method == Method.DRILL else 1)


def _as_is(feature: Feature) -> guide.CutSize | None:
    """What its opening cuts as it measures, with guide and cutter as they measure."""
    width = _mm(feature.opening_mm)
    bushing = _measured(feature.bushing, feature.bushing_nominal)
    cutter = _measured(feature.cutter, feature.cutter_nominal)
    if width is None or bushing is None or cutter is None or not feature.is_inside:
        return None
    if feature.method not in Method.ROUTED:
        return None
    make = guide.cut_of_opening if feature.method == Method.GUIDE_BUSHING else guide.bearing_cut_of_opening
    # Only its width was measured.
    return make(width, width, bushing, cutter, kept=feature.kept)


def _measured(one: Cutter | None, nominal: Decimal | None) -> float | None:
    """As it measures, else as it is meant to be."""
    measured, meant = _both(one, nominal)
    return meant if measured is None else measured


def _both(one: Cutter | None, nominal: Decimal | None) -> tuple[float | None, float | None]:
    """Measured, and as it is meant to be. What is gone cuts nothing, whatever it measured."""
    here = one is not None and one.state != CutterState.GONE
    return _mm(one.measured_mm) if one is not None and here else None, _mm(nominal)


def _metres(feature: Feature, around: float | None) -> float | None:
    return metres_of_cut(
        feature.kind,
        feature.method,
        outline_length=around,
        length=_mm(feature.length_mm),
        width=_mm(feature.width_mm),
        corner=_mm(feature.corner_mm) or 0.0,
        cutter_diameter=_mm(feature.cutter_nominal),
    )


def _mm(number: Decimal | None) -> float | None:
    return None if number is None else float(number)
