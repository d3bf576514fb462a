"""What a cut cannot be, and what it may. The numbers are worked out by hand."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from shared.units import US, read, unit_of
from trimfixtures.services.feature_rules import lacking, mixed, wrong_with

NOTCHED = SimpleNamespace(stage="net", outline="0 0; 900 0; 900 300; 600 300; 600 100; 300 100; 300 300; 0 300")
CUTTER = SimpleNamespace(code="C-6", kind="cutter", nominal_mm=Decimal(6))
BUSHING = SimpleNamespace(code="B-16", kind="bushing", nominal_mm=Decimal(16))
GUIDED = {"kind": "cut_out", "method": "guide_bushing", "cutter": CUTTER, "bushing": BUSHING}
DRILLED = {"kind": "hole", "method": "drill", "cutter_mm": Decimal(8)}
EDGE = {**GUIDED, "kind": "edge"}


def wrong(said, mask=None, units="metric", **more):
    numbers = {name: Decimal(str(value)) if name.endswith("_mm") else value for name, value in more.items()}
    return wrong_with({**said, **numbers}, mask=mask, units=units)


@pytest.mark.parametrize(
    ("said", "more", "column", "says"),
    [
        (GUIDED, {"cutter": None, "cutter_mm": 16}, "cutter_mm", "The cutter (16 mm) is not smaller"),
        (GUIDED, {"bushing": None, "bushing_mm": 6}, "cutter", "it goes through (6 mm)"),
        (GUIDED, {"cutter": BUSHING}, "cutter", "B-16 is a guide bushing"),
        (GUIDED, {"bushing": CUTTER}, "bushing", "C-6 is a cutter"),
        (GUIDED, {"tolerance_mm": "-0.1"}, "tolerance_mm", "-0.1 mm: a tolerance is not below zero"),
        (GUIDED, {"width_mm": 0}, "width_mm", "above zero"),
        (GUIDED, {"corner_mm": "2.9"}, "corner_mm", "it is at least 3 mm"),
        (GUIDED, {"corner_mm": 60, "width_mm": 100, "length_mm": 300}, "corner_mm", "into a side of 100 mm"),
        (GUIDED, {"kind": "slot", "width_mm": "5.5"}, "width_mm", "A cutter of 6 mm is larger than what it is to cut"),
        (GUIDED, {"x_mm": 5}, "y_mm", "fill in both, or neither"),
        (GUIDED, {"pilot_mm": 3}, "pilot_mm", "Only what is drilled"),
        (GUIDED, {"drill_bushing": "slip"}, "drill_bushing", "Only what is drilled"),
        (DRILLED, {"pilot_mm": 8}, "pilot_mm", "The pilot hole (8 mm) is not smaller than the hole (8 mm)"),
        (DRILLED, {"width_mm": 7}, "width_mm", "A cutter of 8 mm is larger"),
        (DRILLED, {"kind": "edge"}, "method", "A drill cuts no edge."),
        (DRILLED, {"width_mm": 10, "tolerance_mm": "0.1"}, "width_mm", "A drill of 8 mm leaves a hole of 8 mm, not of"),
    ],
)
def test_what_cannot_be_is_said_at_its_column(said, more, column, says):
    found = wrong(said, **more)
    assert list(found) == [column]
    assert says in found[column]


@pytest.mark.parametrize(
    ("said", "more"),
    [
        ({"kind": "edge", "method": "guide_bushing"}, {}),
        (GUIDED, {"corner_mm": 3, "width_mm": 6, "length_mm": 6, "tolerance_mm": 0}),
        # A bearing may be as large as its cutter, or smaller.
        (GUIDED, {"method": "bearing", "bushing": None, "bushing_mm": 6}),
        # What is kept is an inlay piece: the cutter goes around it.
        (GUIDED, {"kept": "far_side", "width_mm": 5, "corner_mm": 0}),
        (GUIDED, {"finish": "rough", "corner_mm": 1}),
        (DRILLED, {"width_mm": "7.95", "tolerance_mm": "0.05", "pilot_mm": 5, "drill_bushing": "slip"}),
        (DRILLED, {"width_mm": "8.05", "tolerance_mm": "0.05"}),
        (DRILLED, {"width_mm": 10, "finish": "rough"}),
        ({"kind": "mark", "method": "scribe"}, {"bushing_mm": 3, "cutter_mm": 3}),
    ],
)
def test_what_may_be_is_not_listed(said, more):
    assert wrong(said, **more) == {}


def test_an_edge_is_judged_by_the_corners_of_its_outline():
    found = wrong(EDGE, NOTCHED)
    assert list(found) == ["cutter"]
    assert "an inside corner at 600 mm, 100 mm" in found["cutter"]
    assert "with a cutter of 6 mm its radius is at least 3 mm" in found["cutter"]
    for more in ({"method": "saw"}, {"finish": "rough"}, {"length_mm": 900}):
        assert wrong(EDGE, NOTCHED, **more) == {}
    assert wrong(EDGE, SimpleNamespace(stage="rough", outline=NOTCHED.outline)) == {}
    # What cannot be read is said of the trim mask, and of no cut of it.
    assert wrong(EDGE, SimpleNamespace(stage="net", outline="0 0; 1")) == {}


def test_a_place_is_on_the_outline_or_inside_it():
    assert wrong(DRILLED, NOTCHED, x_mm=300, y_mm=200) == {}
    assert wrong(DRILLED, NOTCHED, x_mm=450, y_mm=200)["x_mm"] == "450 mm, 200 mm is off the outline of the trim mask."
    assert "17 3/4 in, 8 in is off" in wrong(DRILLED, NOTCHED, units=US, x_mm="450.85", y_mm="203.2")["x_mm"]


def test_one_cut_is_typed_in_one_unit():
    inch, mm = (read(text, unit_of("mm", US)) for text in ("1/4", "16 mm"))
    assert mixed({"cutter_mm": inch, "bushing_mm": inch, "width_mm": Decimal(5), "note": ""}) == {}
    assert mixed({"cutter_mm": inch, "bushing_mm": mm}) == {
        "bushing_mm": "Another size of this cut is typed in another unit (in). Say all of one cut in one unit."
    }


def test_a_page_asks_for_what_a_cut_cannot_do_without():
    assert set(lacking({"kind": "cut_out", "method": "guide_bushing"})) == {
        "cutter", "bushing", "length_mm", "width_mm",
    }  # fmt: skip
    assert set(lacking({"kind": "edge", "method": "guide_bushing", "cutter": CUTTER, "bushing_mm": 16})) == set()
    assert set(lacking({"kind": "hole", "method": "bearing", "cutter_mm": 8})) == {"width_mm"}
    assert lacking(DRILLED) == {} == lacking({"kind": "mark", "method": "knife"})
