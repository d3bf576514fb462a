"""What cannot be said of a trim mask, each with a sentence that says what to change: for the services and the sheet."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from shared.units import METRIC
from tooling.models import Kind
from tooling.words.sizes import worked
from tooling.words.terms import KINDS, term
from trimfixtures.calc.outline import Outline, read_outline
from trimfixtures.calc.points import Point, read_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.words.refusals import refused


def no_trim_mask(tool: str, kind: str) -> str:
    """Why a tool is not described as a trim mask."""
    return _("%(tool)s is a %(kind)s. Only a trim mask has this.") % {"tool": tool, "kind": term(KINDS, kind)}


def is_trim_mask(kind: str) -> bool:
    """Whether a tool of that kind may be described as one; "" where nobody knows its kind."""
    return kind in ("", Kind.TRIM_MASK)


def outline_of(text: str) -> Outline | None:
    """The outline that stands there; None where there is none, or none that can be read."""
    try:
        return read_outline(text) if text.strip() else None
    except Refusal:
        return None


def points_in(text: str) -> tuple[Point, ...]:
    """The points that stand there; none where they cannot be read."""
    try:
        return read_points(text)
    except Refusal:
        return ()


def wrong_with(values: Mapping[str, Any], *, units: str = METRIC) -> dict[str, str]:
    """What a trim mask cannot say, by column; empty where it can."""
    wrong = {}
    outline, points = values.get("outline", ""), values.get("points", "")
    try:
        if outline.strip():
            read_outline(outline)
    except Refusal as refusal:
        wrong["outline"] = refused(refusal, units)
    try:
        points_wrong = _wrong_point(points, outline_of(outline), units) if points.strip() else ""
    except Refusal as refusal:
        points_wrong = refused(refusal, units)
    if points_wrong:
        wrong["points"] = points_wrong
    if values.get("check_every") is not None and values["check_every"] < 1:
        wrong["check_every"] = _("A whole number, 1 or more.")
    return wrong


def _wrong_point(points: str, outline: Outline | None, units: str) -> str:
    """What is wrong with points of a check: a find among them, or one off the outline, where that is known."""
    for point in read_points(points):
        if point.deviation is not None or point.within is not None:
            text = _("“%(name)s”: say here only where a point is. What is found there is said when it is checked.")
            return text % {"name": point.name}
        if point.along is None or outline is None:
            continue
        if not 0 <= point.along <= outline.length + 1e-6:
            text = _("“%(name)s” is off the outline: %(along)s along, where it is %(length)s all around.")
            said = {"along": worked(point.along, units), "length": worked(outline.length, units)}
            return text % {"name": point.name, **said}
    return ""
