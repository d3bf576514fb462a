"""What is said of a cut before it is made, without a trim mask around it."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from shared.units import METRIC, US
from trimfixtures.models import Cutter, Feature
from trimfixtures.words.cut_said import cuts_said
from trimfixtures.words.cutters import sizes
from trimfixtures.words.fit import off_by, tolerance


def said_of(fit=None, gone=(), worn=(), past_mm=0.0, **columns):
    of = {
        "offset_mm": None, "opening": None, "metres": None, "refusal": "", "off": False, "working": (), "as_is": None,
        "past_mm": past_mm, "over_mm": None if fit is None else -2 * fit.error, "units": METRIC,
    }  # fmt: skip
    feature = Feature(kind="hole", method="drill", **columns)
    (said,) = cuts_said([SimpleNamespace(feature=feature, fit=fit, gone=gone, worn=worn, **of)], METRIC)
    return {one.name: one.words.replace("\N{NO-BREAK SPACE}", " ") for one in said.facts}, said.beside


@pytest.mark.parametrize(
    ("bushing", "then"),
    [
        ("slip", "; then change the slip bushing for that of the last size, and drill up or ream"),
        ("fixed", ", then drill up or ream"),
        ("", ", then drill up or ream"),
    ],
)
def test_after_a_pilot_hole_the_last_size_is_guided_too(bushing, then):
    facts, _beside = said_of(cutter_mm=6, pilot_mm=3, drill_bushing=bushing)
    assert (facts["Pilot"], facts["Drill or reamer"]) == ("Ø 3 mm first" + then, "Ø 6 mm")
    assert "Drill or reamer" not in said_of(cutter_mm=6)[0]


def test_what_sizes_come_to_is_not_said_as_measured_at_an_edge():
    deep, left = (said_of(SimpleNamespace(error=error))[0]["Worked out"] for error in (-0.03, 0.03))
    assert deep == "from the sizes measured: Ø 0.06 mm over size"
    assert left == "from the sizes measured: Ø 0.06 mm under size"


def test_a_worn_one_is_not_used():
    assert said_of(worn=[Cutter(code="D10")])[1] == ("D10 is worn: take a fresh one.",)


def test_a_tolerance_says_what_it_is_held_against():
    hole = Feature(kind="hole", method="drill", tolerance_mm=Decimal("0.05"))
    said = [tolerance(hole, METRIC)]
    for kind, method in (("hole", "guide_bushing"), ("edge", "bearing")):
        hole.kind, hole.method = kind, method
        said.append(tolerance(hole, METRIC))
    assert tolerance(hole, US) == "± 0.002 in"
    hole.tolerance_mm = Decimal("0.4")
    assert tolerance(hole, US) == "± 0.0157 in"
    assert said == ["± 0.05 mm", "± 0.05 mm at each edge", "± 0.05 mm"]


def test_what_reaches_past_the_outline_is_said():
    (past,) = said_of(past_mm=40.0)[1]
    assert past.startswith("By its place and size it reaches 40 mm past the outline")
    assert said_of(past_mm=0.001)[1] == ()


def test_what_was_measured_is_said_to_a_ten_thousandth_of_an_inch():
    cut = SimpleNamespace(fit=SimpleNamespace(error=-0.03), over_mm=None)
    assert off_by(cut, US) == "0.0012 in too deep"
    worn = Cutter(nominal_mm=12, measured_mm=Decimal("11.95"))
    assert sizes(worn, worn.measured_mm - worn.nominal_mm, US) == "0.472 in, measures 0.4705 in: 0.002 in under"
