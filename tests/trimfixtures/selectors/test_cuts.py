"""The cuts of a trim mask, worked out of what its cutters and bushings are meant to be and what they measure."""

from decimal import Decimal

import pytest

from shared.units import US
from tests.tooling.views.works import mold
from tooling.models import Kind, Shop
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.selectors.cuts import cuts, cuts_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def mask(db):
    Shop.objects.create(name="Saltbatch Boatworks", time_zone="Europe/Lisbon")
    tool = mold("TRIM", None, kind=Kind.TRIM_MASK, pulls=None)
    return Mask.objects.create(tool=tool, outline="0 0; 900 0; 900 300; 0 300")


def cutter(code, nominal, kind="cutter", **columns):
    return Cutter.objects.create(code=code, kind=kind, nominal_mm=nominal, **columns)


def cut(mask, kind="cut_out", method="guide_bushing", **columns):
    return Feature.objects.create(mask=mask, kind=kind, method=method, **columns)


def only(mask, **asked):
    (found,) = cuts(mask, **asked)
    return found


def test_the_library_stands_before_what_is_written_in_the_cut(mask):
    cut(
        mask, cutter=cutter("C12", 12), bushing=cutter("B30", 30, "bushing"),
        cutter_mm=6, bushing_mm=20, width_mm=100, length_mm=200,
    )  # fmt: skip
    found = only(mask)
    assert (found.cutter_mm, found.bushing_mm, found.offset_mm) == (12, 30, 9)
    assert (found.opening.width, found.opening.length) == (118, 218)
    assert (found.fit, found.off, found.refusal, found.metres) == (None, False, "", 0.6)


def test_sizes_that_stand_in_the_cut_alone(mask):
    cut(mask, cutter=cutter("C", None), cutter_mm=12, bushing_mm=30, kept="far_side", width_mm=100, length_mm=200)
    found = only(mask)
    assert (found.offset_mm, found.opening.width) == (21, 142)


@pytest.mark.parametrize(
    ("columns", "error", "off"),
    [
        ({"tolerance_mm": Decimal("0.1")}, -0.1, False),
        ({"tolerance_mm": Decimal("0.09")}, -0.1, True),
        ({}, -0.1, False),
        ({"tolerance_mm": 0, "opening_mm": Decimal("117.8")}, 0, False),
        ({"tolerance_mm": Decimal("0.1"), "opening_mm": Decimal("118.1")}, -0.15, True),
    ],
)
def test_a_worn_bushing_cuts_too_deep_and_may_leave_the_tolerance(mask, columns, error, off):
    worn = cutter("B30", 30, "bushing", measured_mm=Decimal("29.8"), state="worn")
    cut(mask, cutter=cutter("C12", 12), bushing=worn, width_mm=100, length_mm=200, **columns)
    found = only(mask)
    assert found.fit.error == pytest.approx(error)
    assert (found.off, found.worn, found.gone) == (off, (worn,), ())


def test_what_is_gone_cuts_nothing_whatever_it_measured(mask):
    worn = cutter("C12", 12, measured_mm=5, state="gone")
    cut(mask, cutter=worn, bushing_mm=30, tolerance_mm=Decimal("0.1"), width_mm=100, length_mm=200)
    assert (only(mask).fit, only(mask).off, only(mask).gone) == (None, False, (worn,))


def test_rules_and_crossings_are_looked_at_for_whoever_asks(mask, monkeypatch):
    cut(mask, cutter_mm=12, bushing_mm=30, kind="edge", x_mm=2000, y_mm=0)
    assert "is off the outline" in only(mask).refusal
    monkeypatch.setattr("trimfixtures.calc.crossing.first_pair", None)
    mask.outline += "; 0 200"
    (found,) = cuts_of([mask], ruled=False)[mask.pk]
    assert (found.refusal, found.metres) == ("", pytest.approx(2.4))


def test_what_is_gone_is_told_once(mask):
    gone = cutter("B30", 30, "bushing", state="gone")
    cut(mask, bushing=gone, cutter=cutter("C12", 12, state="gone"))
    found = only(mask)
    assert [one.code for one in found.gone] == ["C12", "B30"]
    assert found.worn == ()


@pytest.mark.parametrize(
    ("columns", "refusal"),
    [
        ({"cutter_mm": 30, "bushing_mm": 30}, "is not smaller than the guide bushing"),
        ({"cutter_mm": 12, "bushing_mm": 30, "width_mm": 10, "length_mm": 40}, "larger than what it is to cut"),
        (
            {"cutter_mm": 12, "bushing_mm": 30, "width_mm": 40, "length_mm": 40, "corner_mm": 21},
            "does not go into a side",
        ),
    ],
)
def test_sizes_that_cannot_be_are_said(mask, columns, refusal):
    cut(mask, **columns)
    assert refusal in only(mask).refusal


def test_what_another_size_in_the_library_makes_wrong_is_said(mask):
    small = cutter("C", 6)
    cut(mask, cutter=small, bushing_mm=30, width_mm=100, length_mm=200, corner_mm=4)
    assert only(mask).refusal == ""
    small.nominal_mm = 12
    small.save()
    assert "A corner of radius 4 mm is sharper than" in only(mask).refusal


@pytest.mark.parametrize(
    ("kind", "method", "columns", "offset", "opening", "metres"),
    [
        ("edge", "guide_bushing", {"cutter_mm": 12, "bushing_mm": 30}, 9, None, 2.4),
        ("edge", "guide_bushing", {"length_mm": 900}, None, None, 0.9),
        ("edge", "bearing", {"cutter_mm": 12, "bushing_mm": 12}, 0, None, 2.4),
        ("hole", "bearing", {"cutter_mm": 12, "bushing_mm": 16, "width_mm": 100}, 2, 104, 0.31416),
        ("hole", "drill", {"cutter_mm": 8, "width_mm": 8}, None, None, None),
        ("edge", "saw", {"cutter_mm": 2, "kept": "far_side"}, 2, None, 2.4),
        ("mark", "scribe", {"length_mm": 40}, 0, None, 0.04),
        ("edge", "knife", {}, 0, None, 2.4),
    ],
)
def test_every_method_has_its_own_way(mask, kind, method, columns, offset, opening, metres):
    cut(mask, kind, method, **columns)
    found = only(mask)
    assert found.offset_mm == offset
    assert (found.opening.width if found.opening else None) == opening
    assert found.metres == (metres if metres is None else pytest.approx(metres, abs=1e-5))
    assert found.refusal == ""


def test_a_drilled_hole_is_judged_by_its_diameter(mask):
    thick = cutter("D8", 8, measured_mm=Decimal("8.2"))
    cut(mask, "hole", "drill", cutter=thick, width_mm=8, tolerance_mm=Decimal("0.05"))
    found = only(mask)
    assert (found.fit.error, found.off) == (pytest.approx(-0.1), True)
    assert found.working == (
        "Drill D8: 8 mm, measured 8.2 mm.",
        "By what was measured: Ø 0.2 mm over size.",
        "These sizes alone go beyond its tolerance of ± 0.05 mm.",
        "Worked out from sizes, no edge was measured: run-out, a guide off its axis, pressure, how the trim mask sits "
        "and how coarsely the sizes were read are not in it.",
    )


def test_a_drill_is_judged_by_the_hole_and_not_by_its_name(mask):
    worn = cutter("D8", 8, measured_mm=Decimal("7.9"))
    cut(mask, "hole", "drill", cutter=worn, width_mm=Decimal("8.1"), tolerance_mm=Decimal("0.1"))
    found = only(mask)
    # 8.1 less 7.9 is under size, so that half of it is left outside the line
    assert (found.fit.error, found.over_mm) == (pytest.approx(0.1), pytest.approx(-0.2))
    assert (found.off, found.refusal) == (True, "")


def test_an_opening_that_is_there_says_how_wide_it_cuts(mask):
    bushing = cutter("B30", 30, "bushing", measured_mm=Decimal("29.98"))
    cut(mask, cutter=cutter("C12", 12), bushing=bushing, opening_mm=90)
    (plain,) = cuts(mask)
    # 90 less the bushing and with the cutter: 90 - 29.98 + 12
    assert plain.as_is.width == pytest.approx(72.02)
    assert "twice the offset by what was measured = 72.02 mm wide." in "".join(plain.working)
    Feature.objects.update(method="bearing", kept="far_side")
    assert only(mask).as_is.width == pytest.approx(48.02)
    Feature.objects.update(opening_mm=25)
    assert "smaller than the bearing (29.98 mm)" in only(mask).refusal


def test_the_corners_of_an_opening_are_those_of_the_cut_and_its_offset(mask):
    sizes = {"cutter_mm": 6, "bushing_mm": 16, "width_mm": 420, "length_mm": 800, "corner_mm": 200}
    cut(mask, **sizes)
    assert only(mask).opening_corner_mm == 205
    Feature.objects.update(kept="far_side")
    assert only(mask).opening_corner_mm == 211
    Feature.objects.update(kept="mask_side", finish="rough", corner_mm=0)
    assert only(mask).opening_corner_mm is None


def test_a_cut_reaches_past_the_outline(mask):
    sizes = {"cutter_mm": 6, "bushing_mm": 16, "width_mm": 60, "length_mm": 100, "x_mm": 890, "y_mm": 150}
    cut(mask, **sizes)
    assert only(mask).past_mm == 40
    Feature.objects.update(x_mm=850)
    assert only(mask).past_mm == 0
    Feature.objects.update(kind="hole", x_mm=880, length_mm=None)
    assert only(mask).past_mm == pytest.approx(10)


def test_the_working_in_inches_is_that_in_mm(mask):
    small, large = cutter("C", Decimal("6.35")), cutter("B", Decimal("19.05"), "bushing")
    cut(mask, cutter=small, bushing=large, width_mm=Decimal("101.6"), length_mm=Decimal("203.2"))
    assert only(mask, units=US).working == (
        "Guide bushing B: 3/4 in.",
        "Cutter C: 1/4 in.",
        "From the guiding edge to the kept piece: half of (guide bushing less cutter) = 1/4 in.",
        "Opening: the cut and twice 1/4 in = 4 1/2 in wide, 8 1/2 in long.",
        "Least radius of a corner in the opening: half the guide bushing = 3/8 in.",
        "Least radius of a corner in the cut: half the cutter = 1/8 in.",
        "Way of the cut: ≈ 2 ft.",
        "Common practice, no source: guide bushing and cutter turn about one axis.",
    )
    assert "= 114.3 mm wide, 215.9 mm long." in only(mask).working[3]


def test_parts_of_an_error_are_said_where_there_are_several(mask):
    worn = cutter("B30", 30, "bushing", measured_mm=Decimal("29.8"))
    cut(mask, cutter=cutter("C12", 12, measured_mm=Decimal("11.9")), bushing=worn, width_mm=100, length_mm=200)
    assert (
        "By what was measured, half of what each is off: 0.05 mm too deep "
        "(guide bushing 0.1 mm too deep, cutter 0.05 mm left)."
    ) in only(mask).working


def test_in_cutting_order_and_in_one_query_for_many(mask, django_assert_num_queries):
    last = cut(mask, "edge", "saw", order=3)
    first, second = cut(mask, order=1, cutter=cutter("C", 12)), cut(mask, "mark", "scribe", order=2)
    other = Mask.objects.create(tool=mold("TRIM-2", None, kind=Kind.TRIM_MASK, pulls=None), outline="no outline")
    edge = cut(other, "edge", "saw")
    with django_assert_num_queries(1):
        found = cuts_of([mask, other])
        assert [one.feature for one in found[mask.pk]] == [first, second, last]
        assert all(one.working is not None and one.feature.mask.pk for of in found.values() for one in of)
    assert [(one.feature, one.metres) for one in found[other.pk]] == [(edge, None)]
    with django_assert_num_queries(0):
        assert cuts_of([]) == {}
