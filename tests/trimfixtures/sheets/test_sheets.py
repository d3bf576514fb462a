"""The sheets of trim masks: what may be said, what is refused at which cell and at no other, and equal rows."""

from decimal import Decimal

import pytest

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv, write_xlsx
from tooling.models import Tool
from tooling.services.moving_in.ours import InOurs
from tooling.services.moving_in.targets import targets
from trimfixtures.models import Cutter, Feature, Mask

pytestmark = pytest.mark.django_db
TOOLS = [
    {"code": "T-1", "kind": "trim_mask", "name": "Hull", "aliases": "OLD HULL"},
    {"code": "T-2", "kind": "trim_mask", "name": "Deck"},
    {"code": "M-1", "kind": "mold", "name": "Hull"},
]
CUTTERS = [{"code": "C-6", "kind": "cutter", "nominal_mm": 6}, {"code": "B-16", "kind": "bushing", "nominal_mm": 16}]
MASK = {"tool": "T-1", "outline": "0 0; 900 0; 900 300; 0 300"}
EDGE = {"mask": "T-1", "kind": "edge", "method": "guide_bushing", "cutter": "C-6", "bushing": "B-16"}
PLAIN = {"mask": "T-1", "kind": "hole", "method": "drill"}


def shop(path, *features, cutters=(), masks=(MASK,), **more):
    sheets = {"tools": TOOLS, "cutters": [*CUTTERS, *cutters], "masks": list(masks), "mask_features": list(features)}
    return write_csv(path, {**sheets, **more})


def test_the_needed_columns_are_enough(tmp_path):
    few = {"tools": TOOLS, "masks": [{"tool": "T-1"}], "mask_features": [PLAIN, {**PLAIN, "mask": "T-2"}, PLAIN]}
    few["cutters"] = [{"code": "C-6", "kind": "cutter"}]
    assert taken(write_xlsx(tmp_path / "a.xlsx", few))["errors"] == []
    assert list(Feature.objects.order_by("pk").values_list("mask__tool__code", "kept")) == [
        ("T-1", "mask_side"), ("T-2", "mask_side"), ("T-1", "mask_side"),
    ]  # fmt: skip
    assert Cutter.objects.get().state == "here"
    again = taken(write_xlsx(tmp_path / "b.xlsx", few))
    assert (again["errors"], set(again["written"].values())) == ([], {0})


def test_cells_as_a_person_writes_them(tmp_path):
    rim = {**EDGE, "mask": "old hull", "kind": "Cut-out", "method": "Guide bushing", "cutter": " c-6 ", "order": 1.0}
    said = {**MASK, "tool": "t-1", "stage": "After post-cure", "datum": "pin & slot", "held_by": 4, "seal_edge": "yes"}
    assert taken(shop(tmp_path / "a", rim, masks=[said]))["errors"] == []
    cut, mask = Feature.objects.get(), Mask.objects.get()
    assert (cut.kind, cut.method, cut.cutter.code, cut.order) == ("cut_out", "guide_bushing", "C-6", 1)
    assert (mask.tool.code, mask.stage, mask.held_by, mask.seal_edge) == ("T-1", "after_post_cure", "4", "yes")


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ({**EDGE, "cutter": "", "cutter_mm": 16}, "cutter_mm"),
        ({**EDGE, "cutter": "B-16"}, "cutter"),
        ({**EDGE, "bushing": "X-9"}, "bushing"),
        ({**EDGE, "tolerance_mm": "-0.1"}, "tolerance_mm"),
        ({**EDGE, "kind": "cut_out", "corner_mm": 2}, "corner_mm"),
        ({**EDGE, "kind": "gap", "corner_mm": 2}, "kind"),
        ({**PLAIN, "x_mm": 901, "y_mm": 10}, "x_mm"),
        ({**PLAIN, "cutter_mm": "1/2 in", "width_mm": 12.7}, "cutter_mm"),
        ({**PLAIN, "pilot_mm": 9, "cutter_mm": 8}, "pilot_mm"),
        ({**PLAIN, "mask": "M-1"}, "mask"),
        ({**PLAIN, "mask": "T-9"}, "mask"),
        ({**PLAIN, "order": 0}, "order"),
        ({"mask": "T-1", "kind": "edge"}, "method"),
    ],
)
def test_a_cut_that_cannot_be_is_listed_and_no_other(tmp_path, row, column):
    right = {**PLAIN, "cutter_mm": 8, "x_mm": 450, "y_mm": 150}
    assert cells_at_fault(shop(tmp_path / "a", right, row, EDGE, right)) == [("mask_features", 3, column)]
    assert not Tool.objects.exists()


@pytest.mark.parametrize(
    ("masks", "cutters", "where"),
    [
        ([{**MASK, "outline": "0 0; 900 300; 900 0; 0 300"}], [], ("masks", 2, "outline")),
        ([{**MASK, "outline": "0 0; 900 0; here"}], [], ("masks", 2, "outline")),
        ([{**MASK, "points": "bow @ 2500"}], [], ("masks", 2, "points")),
        ([{**MASK, "stage": "last"}, {"tool": "T-2"}], [], ("masks", 2, "stage")),
        ([MASK, {"tool": "OLD HULL"}], [], ("masks", 3, "tool")),
        ([MASK, {"tool": "M-1"}], [], ("masks", 3, "tool")),
        ([MASK, {"tool": "T-9"}], [], ("masks", 3, "tool")),
        ([MASK], [{"code": "c-6", "kind": "cutter"}], ("cutters", 4, "code")),
        ([MASK], [{"code": "C-8", "kind": "drill"}], ("cutters", 4, "kind")),
        ([MASK], [{"code": "C-8", "kind": "cutter", "nominal_mm": "5/16 in"}], ("cutters", 4, "nominal_mm")),
        ([MASK], [{"code": "C-8", "kind": "cutter", "measured_mm": 0}], ("cutters", 4, "measured_mm")),
    ],
)
def test_what_is_wrong_elsewhere_is_not_said_of_the_cuts(tmp_path, masks, cutters, where):
    """Cuts on the trim mask and with the cutter whose rows are wrong stand beside, and are right."""
    beside = [EDGE, {**PLAIN, "x_mm": 5000, "y_mm": 0}] if where[2] in ("outline", "stage") else [EDGE]
    if cutters:
        beside.append({**EDGE, "cutter": cutters[0]["code"], "bushing": "", "bushing_mm": 7})
    assert cells_at_fault(shop(tmp_path / "a", *beside, masks=masks, cutters=cutters)) == [where]


def test_of_two_cuts_with_one_number_the_later_is_wrong(tmp_path):
    numbered = {**PLAIN, "order": 1}
    rows = (numbered, {**numbered, "mask": "T-2"}, PLAIN, {**PLAIN, "order": 2}, {**numbered, "name": "another"}, PLAIN)
    assert cells_at_fault(shop(tmp_path / "a", *rows)) == [("mask_features", 6, "order")]


def test_a_size_in_another_unit_is_said_in_mm(tmp_path):
    [error] = taken(shop(tmp_path / "a", {**PLAIN, "cutter_mm": '1/2"', "width_mm": 12.7}))["errors"]
    assert error["message"].startswith('“1/2"” has a unit of its own')
    assert error["message"].endswith("write 12.7.")
    [error] = taken(shop(tmp_path / "b", {**PLAIN, "cutter_mm": "wide"}))["errors"]
    assert error["message"] == "“wide” is no number."


def test_a_list_of_the_shop_s_own_has_one_unit_a_column(tmp_path):
    ours = InOurs({}, days="", takes_proposed=False)
    inches, plain, tool = (targets(sheet)[name] for sheet, name in (
        ("cutters", "nominal_mm in in"), ("cutters", "nominal_mm"), ("tools", "length_mm"),
    ))  # fmt: skip
    assert (ours.cell("cutters", inches, "1/4"), ours.cell("cutters", plain, "6 mm")) == (Decimal("6.35"), 6)
    # What is left as it is, the sheet refuses.
    assert (ours.cell("cutters", inches, "6 mm"), ours.cell("cutters", plain, "1/4 in")) == ("6 mm", "1/4 in")
    assert ours.cell("tools", tool, "1/4 in") == Decimal("6.35")


def test_what_is_in_the_shop_is_passed_over_and_not_changed(tmp_path):
    named = {**PLAIN, "name": "drain", "cutter_mm": 8}
    first = (EDGE, {**named, "order": 2}, named)
    assert taken(shop(tmp_path / "a", *first))["written"]["mask_features"] == 3
    assert set(taken(shop(tmp_path / "b", *first))["written"].values()) == {0}
    changed = ({**EDGE, "order": 2}, {**named, "cutter_mm": 9}, {**named, "order": 3})
    book = shop(tmp_path / "c", *changed, masks=[{**MASK, "note": "x"}], cutters=[{"code": "C-7", "kind": "cutter"}])
    assert cells_at_fault(book) == [("masks", 2, "tool"), ("mask_features", 2, "order"), ("mask_features", 3, "name")]
    assert taken(shop(tmp_path / "d", changed[2]))["written"]["mask_features"] == 1
    assert Feature.objects.get(order=3).cutter_mm == Decimal(8)
