"""What cannot be said of a plug and its passes, each with a sentence that says what to change: for pages and sheets."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from shared.units import METRIC
from tooling.calc.milling import widest_step
from tooling.models import Kind
from tooling.models.fields import plain
from tooling.words.sizes import size, worked
from tooling.words.terms import KINDS, term

Wrong = Iterator[tuple[str, str]]  # columns, each with a sentence

LENGTHS = (
    "ball_diameter_mm", "step_over_mm", "step_down_mm", "width_mm", "length_mm", "holder_diameter_mm", "stickout_mm",
    "wall_height_mm",
)  # fmt: skip


def is_plug(kind: str) -> bool:
    """Whether a tool of that kind may have a plug's record; "" where nobody knows its kind."""
    return kind in ("", Kind.PLUG)


def no_plug(tool: str, kind: str) -> str:
    """Why a tool has no record of a plug."""
    return _("%(tool)s is a %(kind)s. Only a plug has this.") % {"tool": tool, "kind": term(KINDS, kind)}


def wrong_with_record(values: Mapping[str, Any]) -> dict[str, str]:
    """What the record of a plug cannot say, by column; empty where it can."""
    tilt = values.get("tilt_deg")
    if tilt is None or -90 < tilt < 90:
        return {}
    return {"tilt_deg": _("%(number)s°: a tilt lies between -90° and 90°.") % {"number": _plainly(tilt)}}


def wrong_with_pass(values: Mapping[str, Any], units: str = METRIC) -> dict[str, str]:
    """What a pass cannot say, by column; empty where it can.

    values: its columns by name, lengths in mm. What is left out is not asked for: it only leaves a number out.
    """
    wrong = dict(_numbers(values, units))
    for rule in (_step_over, _holder):
        for column, sentence in rule({name: one for name, one in values.items() if name not in wrong}, units):
            wrong.setdefault(column, sentence)
    return wrong


def _numbers(values: Mapping[str, Any], units: str) -> Wrong:
    for name in LENGTHS:
        if values.get(name) is not None and values[name] <= 0:
            yield name, _("%(number)s: a size is above zero.") % {"number": size(values[name], units)}
    for name, text in (
        ("feed_mm_min", _("A feed is above zero.")),
        ("minutes_taken", _("It took more than no time: above zero, or leave it empty.")),
    ):
        if values.get(name) is not None and values[name] <= 0:
            yield name, text
    slope, wall = values.get("slope_deg"), values.get("wall_angle_deg")
    if slope is not None and not 0 <= slope < 90:
        yield "slope_deg", _("%(number)s°: a slope goes from 0° up to below 90°.") % {"number": _plainly(slope)}
    if wall is not None and not 0 < wall <= 90:
        text = _("%(number)s°: a wall stands at more than 0° and at most 90°, which is upright.")
        yield "wall_angle_deg", text % {"number": _plainly(wall)}


def _step_over(values: Mapping[str, Any], units: str) -> Wrong:
    """Coarser than the ball is wide it leaves what it never touched."""
    step, ball, slope = (values.get(name) for name in ("step_over_mm", "ball_diameter_mm", "slope_deg"))
    if step is None or ball is None:
        return
    widest = widest_step(float(ball), float(slope or 0))
    if float(step) <= widest * (1 + 1e-9):
        return
    text = _(
        "A ball of %(ball)s on a slope of %(slope)s° touches all of it only up to a step-over of %(widest)s. Take a "
        "finer one."
    )
    said = {"ball": size(ball, units), "slope": _plainly(slope or Decimal(0)), "widest": worked(widest, units)}
    yield "step_over_mm", text % said


def _holder(values: Mapping[str, Any], units: str) -> Wrong:
    out, ball = values.get("stickout_mm"), values.get("ball_diameter_mm")
    if out is not None and ball is not None and out < ball / 2:
        text = _("A ball of %(ball)s is at least %(least)s out of its holder.")
        yield "stickout_mm", text % {"ball": size(ball, units), "least": size(ball / 2, units)}


def _plainly(number: Decimal) -> str:
    return f"{plain(Decimal(number)):f}"
