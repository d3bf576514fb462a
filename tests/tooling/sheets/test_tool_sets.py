"""The sheet `tool_sets`: out and in again, twice, and what is refused at which cell."""

import pytest

from tests.tooling.sheets.books import cells_at_fault, content, taken, write_csv
from tests.tooling.sheets.shops import make_empty, make_shop
from tooling.models import SetLine
from tooling.services.sheets.exporting import export_shop

pytestmark = pytest.mark.django_db
SHOP = {
    "parts": [{"number": "K", "name": "Deck"}, *({"number": "F", "revision": one, "name": "Fin"} for one in "AB")],
    "tools": [
        {"code": "M1", "kind": "mold", "name": "Deck", "aliases": "OLD 1"},
        {"code": "I1", "kind": "insert", "name": "Rim"},
        {"code": "T1", "kind": "trim_mask", "name": "Mask"},
        *({"code": f"F-{one}", "kind": "mold", "name": "Half", "matched_set": "Fin"} for one in "LR"),
        *({"code": f"G-{one}", "kind": "mold", "name": "Half", "matched_set": "Fin 2"} for one in "LR"),
    ],
}
MOLD = {"part": "K", "role": "mold", "tool": "M1"}
LEFT, RIGHT, LEFT_2, RIGHT_2 = (
    {"part": "F", "revision": "B", "role": "mold", "tool": one} for one in ("F-L", "F-R", "G-L", "G-R")
)


def sheet(path, *rows, **more):
    return write_csv(path, {**SHOP, "tool_sets": list(rows), **more})


def test_what_goes_out_comes_in_equal(tmp_path):
    make_shop()
    export_shop(tmp_path / "a.xlsx")
    before = content(tmp_path / "a.xlsx")["tool_sets"]
    assert len(before) == 9
    make_empty()
    assert taken(tmp_path / "a.xlsx")["written"]["tool_sets"] == 8
    export_shop(tmp_path / "b.xlsx")
    assert content(tmp_path / "b.xlsx")["tool_sets"] == before
    assert taken(tmp_path / "a.xlsx")["written"]["tool_sets"] == 0


def test_rows_as_a_person_writes_them(tmp_path):
    rows = (
        {**MOLD, "part": "k", "tool": "old 1", "role": "Mold"},
        {"part": "K", "role": "Mold insert", "tool": "i1", "order": 1, "required": "no", "confirmed": "no"},
        {"part": "K", "role": "hardware", "item": "8 bolts  M6"},
        {**LEFT, "revision": ""}, RIGHT,
    )  # fmt: skip
    assert taken(sheet(tmp_path / "a", *rows))["written"]["tool_sets"] == 5
    kept = SetLine.objects.order_by("pk").values_list("revision__revision", "role", "tool__code", "item", "required")
    assert list(kept)[1:4] == [
        ("", "insert", "I1", "", False),
        ("", "hardware", None, "8 bolts M6", True),
        ("B", "mold", "F-L", "", True),  # without a revision it is the newest
    ]
    assert SetLine.objects.filter(confirmed=False).count() == 1
    assert taken(sheet(tmp_path / "b", *rows))["written"]["tool_sets"] == 0
    assert cells_at_fault(sheet(tmp_path / "c", {**MOLD, "alternative": "x"})) == [("tool_sets", 2, "tool")]


@pytest.mark.parametrize(
    ("rows", "where"),
    [
        ([{**MOLD, "part": "X"}], (2, "part")),
        ([{**LEFT, "revision": "C"}, RIGHT], (2, "revision")),
        ([{**MOLD, "tool": "X"}], (2, "tool")),
        ([{**MOLD, "tool": "T1"}], (2, "tool")),
        ([{**MOLD, "role": "jig"}], (2, "role")),
        ([{**MOLD, "tool": ""}], (2, "tool")),
        ([{**MOLD, "item": "with care"}], (2, "item")),
        ([{"part": "K", "role": "hardware"}], (2, "item")),
        ([{"part": "K", "role": "hardware", "item": "bolts", "tool": "M1"}], (2, "tool")),
        ([MOLD, {**MOLD, "tool": "OLD 1"}], (3, "tool")),
        ([{**MOLD, "order": 0}], (2, "order")),
        ([MOLD, LEFT], (3, "tool")),
        ([LEFT, {**RIGHT, "required": "perhaps"}], (3, "required")),
        ([{**LEFT, "alternative": "fin"}, {**RIGHT, "alternative": "Fin"}], (3, "alternative")),
        ([{**LEFT, "alternative": "l"}, RIGHT, {**LEFT_2, "alternative": "L"}, RIGHT_2], (4, "alternative")),
        ([{**LEFT, "alternative": "l"}, RIGHT, {**LEFT, "tool": "M1", "alternative": "l"}], (4, "alternative")),
        (
            [{**LEFT, "alternative": "l"}, {**RIGHT, "role": "jig"}, {**LEFT_2, "alternative": "l"}, RIGHT_2],
            (3, "role"),
        ),
    ],
)
def test_what_cannot_be_is_said_at_its_cell_alone(tmp_path, rows, where):
    assert cells_at_fault(sheet(tmp_path / "a", *rows)) == [("tool_sets", *where)]
    assert not SetLine.objects.exists()


def test_halves_stand_in_for_halves_together(tmp_path):
    top, low = {"alternative": "top"}, {"alternative": "Low"}
    first = sheet(tmp_path / "a", {**LEFT, **top}, {**RIGHT, **low})
    assert taken(first)["written"]["tool_sets"] == 2
    assert cells_at_fault(sheet(tmp_path / "b", {**LEFT_2, **top}, RIGHT_2)) == [("tool_sets", 2, "alternative")]
    assert taken(sheet(tmp_path / "c", {**RIGHT_2, **top}, {**LEFT_2, "alternative": "low"}))["errors"] == []


def test_a_row_that_is_wrong_elsewhere_is_not_blamed_again(tmp_path):
    wrong = {"parts": [{"number": "K", "name": ""}], "tools": [{"code": "M1", "kind": "jig", "name": "Deck"}]}
    found = cells_at_fault(sheet(tmp_path / "a", MOLD, **wrong))
    assert found == [("parts", 2, "name"), ("tools", 2, "kind")]


def test_a_tool_that_is_retired_does_not_come_in_and_one_that_was_stays(tmp_path):
    gone = [{"tool": "M1", "at": "2026-03-02 08:00", "entry": "retired", "reason": "worn"}]
    assert taken(sheet(tmp_path / "a", MOLD, history=gone))["written"]["tool_sets"] == 1
    assert taken(sheet(tmp_path / "b", MOLD))["errors"] == []
    assert cells_at_fault(sheet(tmp_path / "c", {**MOLD, "part": "F", "revision": "A"})) == [("tool_sets", 2, "tool")]
