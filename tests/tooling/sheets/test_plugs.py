"""The sheets of plugs and their passes: out and in again, twice, and what is refused at which cell."""

from decimal import Decimal

import pytest

from shared.units import UNITS, read
from tests.tooling.sheets.books import cells_at_fault, content, taken, write_csv
from tests.tooling.sheets.shops import START, make_empty, make_shop
from tests.tooling.sheets.test_roundtrip import export
from tooling.models import MillingPass, Person, PlugRecord
from tooling.services import plugs
from tooling.services.plug_rules import LENGTHS
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
TOOLS = [{"code": code, "kind": kind, "name": code} for code, kind in (("P-1", "plug"), ("P-2", "plug"), ("M", "mold"))]
FINE = {"tool": "P-1", "kind": "finishing", "ball_diameter_mm": 20, "step_over_mm": 0.8}
SHEETS = ("plugs", "milling_passes")


def sheet(path, *rows, plugs=()):
    return write_csv(path, {"tools": TOOLS, "plugs": list(plugs), "milling_passes": list(rows)})


def facts():
    columns = [field.name for field in MillingPass._meta.concrete_fields if field.name not in ("id", "tool")]
    passes = MillingPass.objects.order_by("tool__code", "order").values_list("tool__code", *columns)
    return list(passes), list(PlugRecord.objects.values_list("tool__code", "base", "tilt_deg", "tilt_about", "note"))


def test_what_goes_out_comes_in_equal(tmp_path):
    make_shop()
    plug, ines = add_tool(code="P-7", name="Plug", kind="plug"), Person.objects.named("Ines")
    said = {name: Decimal(place) for place, name in enumerate(LENGTHS, 20)}
    said |= {"step_over_mm": read("1/32", UNITS["in"]), "feed_mm_min": read("240", UNITS["in/min"])}
    plugs.describe(
        plug, by=ines, at=START, base="frame", tilt_deg=Decimal("-12.5"), tilt_about="long axis", note="a\nb"
    )
    plugs.add_pass(plug, by=ines, at=START, kind="finishing", slope_deg=Decimal(30), both_ways=False, **said)
    plugs.add_pass(plug, by=ines, at=START, kind="roughing", name="all", minutes_taken=Decimal(90))
    before, out = facts(), export(tmp_path / "a.xlsx")
    make_empty()
    written = taken(out)["written"]
    assert [written[name] for name in SHEETS] == [1, 2]
    assert facts() == before
    assert MillingPass.objects.get(order=1).as_typed == {
        "step_over_mm": ["1/32", "in"], "feed_mm_min": ["240", "in/min"],
    }  # fmt: skip
    again = content(export(tmp_path / "b.xlsx"))
    assert [again[name] for name in SHEETS] == [content(out)[name] for name in SHEETS]
    assert {taken(out)["written"][name] for name in SHEETS} == {0}


def test_rows_without_a_number_stand_as_they_follow_each_other(tmp_path):
    rows = [{**FINE, "kind": "Roughing", "both_ways": "no"}, {**FINE, "tool": "P-2"}, FINE]
    assert taken(sheet(tmp_path / "a", *rows))["errors"] == []
    found = MillingPass.objects.order_by("tool__code", "order").values_list("tool__code", "order", "kind", "both_ways")
    assert list(found) == [("P-1", 1, "roughing", False), ("P-1", 2, "finishing", True), ("P-2", 1, "finishing", True)]
    assert set(taken(sheet(tmp_path / "b", *rows))["written"].values()) == {0}
    other = {**FINE, "order": 2, "note": "deeper"}
    assert cells_at_fault(sheet(tmp_path / "c", other)) == [("milling_passes", 2, "order")]


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ({**FINE, "step_over_mm": 21}, "step_over_mm"),
        ({**FINE, "step_over_mm": 15, "slope_deg": 60}, "step_over_mm"),
        ({**FINE, "slope_deg": 90}, "slope_deg"),
        ({**FINE, "ball_diameter_mm": 0}, "ball_diameter_mm"),
        ({**FINE, "stickout_mm": 9}, "stickout_mm"),
        ({**FINE, "wall_angle_deg": 91}, "wall_angle_deg"),
        ({**FINE, "feed_mm_min": -1}, "feed_mm_min"),
        ({**FINE, "holder_diameter_mm": "2 in"}, "holder_diameter_mm"),
        ({**FINE, "tool": "M"}, "tool"),
        ({**FINE, "tool": "P-9"}, "tool"),
        ({**FINE, "order": 1}, "order"),
        ({"tool": "P-1"}, "kind"),
    ],
)
def test_a_pass_that_cannot_be_is_listed_and_no_other(tmp_path, row, column):
    assert cells_at_fault(sheet(tmp_path / "a", FINE, row, {**FINE, "tool": "P-2"})) == [("milling_passes", 3, column)]


@pytest.mark.parametrize(
    ("row", "column"), [({"tilt_deg": 90}, "tilt_deg"), ({"tool": "M"}, "tool"), ({"tool": "P-1"}, "tool")]
)
def test_a_record_that_cannot_be_is_listed(tmp_path, row, column):
    records = [{"tool": "P-1", "base": "frame"}, {"tool": "P-2", **row}]
    assert cells_at_fault(sheet(tmp_path / "a", FINE, plugs=records)) == [("plugs", 3, column)]
