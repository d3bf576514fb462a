"""The sheets `counts` and `count_marks`: only an empty shop takes them, and only as the history says."""

import pytest

from tests.tooling.sheets.books import cells_at_fault, content, taken, write_csv
from tests.tooling.sheets.shops import make_empty
from tests.tooling.sheets.test_roundtrip import export
from tooling.models import CountMark, PlaceCount

pytestmark = pytest.mark.django_db
SHOP = {
    "places": [{"code": "B", "name": "Rack B"}],
    "tools": [{"code": code, "kind": "mold", "name": "Deck"} for code in ("DECK", "HULL")],
}
COUNT = {"number": 1, "place": "B", "begun_at": "2026-03-02 15:00", "begun_by": "Ines"}
ENTRY = {"tool": "DECK", "at": "2026-03-02 15:05", "entry": "moved", "place": "B", "counted": 1, "number": 4}
MARK = {"count": 1, "found": "seen", "tool": "DECK", "entry": 4, "at": "2026-03-02 15:05"}
UNKNOWN = {"count": 1, "found": "unknown", "text": "old", "at": "2026-03-02 15:05"}


def sheet(path, *, counts=(COUNT,), history=(ENTRY,), marks=(MARK,)):
    return write_csv(path, {**SHOP, "counts": list(counts), "history": list(history), "count_marks": list(marks)})


def facts():
    counts = PlaceCount.objects.values_list(
        "number", "place__code", "begun_at", "begun_by__name", "ended_at", "ended_by__name", "given_up"
    )
    columns = ("count__number", "found", "tool__code", "entry", "text", "at", "by__name", "settled")
    return list(counts), list(CountMark.objects.order_by("pk").values_list(*columns))


def test_what_goes_out_comes_in_equal_and_again_is_harmless(tmp_path):
    ended = {"ended_at": "2026-03-02 16:00", "ended_by": "Ole", "given_up": "yes"}
    void = {"tool": "DECK", "at": "2026-03-02 15:06", "entry": "void", "voids": 4, "number": 5, "reason": "slip"}
    taken(sheet(tmp_path / "a", counts=[{**COUNT, **ended}], history=[ENTRY, void], marks=[MARK, UNKNOWN]))
    before, out = facts(), export(tmp_path / "a.xlsx")
    make_empty()
    written = taken(out)["written"]
    assert (written["counts"], written["count_marks"]) == (1, 2)
    assert facts() == before
    again = content(export(tmp_path / "b.xlsx"))
    assert all(again[name] == content(out)[name] for name in ("counts", "count_marks"))
    assert taken(out)["written"]["count_marks"] == 0


def test_only_an_empty_shop_takes_a_count(tmp_path):
    assert taken(sheet(tmp_path / "a", marks=[MARK, UNKNOWN]))["written"]["count_marks"] == 2
    other = {**COUNT, "number": 2, "ended_at": "2026-03-02 16:00"}
    at_fault = cells_at_fault(sheet(tmp_path / "b", counts=[COUNT, other], marks=[MARK, {**UNKNOWN, "text": "new"}]))
    assert at_fault == [("counts", 3, "number"), ("count_marks", 3, "count")]
    assert cells_at_fault(sheet(tmp_path / "c", counts=[{**COUNT, "begun_by": "Ole"}])) == [("counts", 2, "number")]
    edited = [{**MARK, "tool": "HULL"}, {**UNKNOWN, "settled": "yes"}]
    at_fault = cells_at_fault(sheet(tmp_path / "d", marks=edited))
    assert at_fault == [("count_marks", 2, "entry"), ("count_marks", 3, "text")]


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ({"place": "X"}, "place"),
        ({"begun_at": "2999-01-01"}, "begun_at"),
        ({"ended_at": "2026-03-01"}, "ended_at"),
        ({"ended_by": "Ines"}, "ended_by"),
        ({"given_up": "yes"}, "given_up"),
    ],
)
def test_what_a_count_cannot_be_is_said_at_its_cell(tmp_path, row, column):
    assert cells_at_fault(sheet(tmp_path / "a", counts=[{**COUNT, **row}])) == [("counts", 2, column)]
    assert not PlaceCount.objects.exists()


@pytest.mark.parametrize(
    ("row", "cell"),
    [
        ({"count": 2}, ("count_marks", 2, "count")),
        ({"tool": "HULL"}, ("count_marks", 2, "entry")),
        ({"tool": "X"}, ("count_marks", 2, "tool")),
        ({"entry": 5}, ("count_marks", 2, "entry")),
        ({"at": "2026-03-02 15:06"}, ("count_marks", 2, "at")),
        ({"by": "Ole"}, ("count_marks", 2, "by")),
        ({"found": "missing"}, ("count_marks", 2, "found")),
        ({"found": "unknown", "text": "old"}, ("count_marks", 2, "tool")),
        ({"found": "unknown", "tool": "", "entry": ""}, ("count_marks", 2, "text")),
    ],
)
def test_what_a_line_of_a_count_cannot_be_is_said_at_its_cell(tmp_path, row, cell):
    assert cell in cells_at_fault(sheet(tmp_path / "a", marks=[{**MARK, **row}]))
    assert not CountMark.objects.exists()


def test_two_counts_of_a_place_and_entries_without_their_count_are_refused(tmp_path):
    two = [COUNT, {**COUNT, "number": 2}, {**COUNT, "number": 2}]
    assert cells_at_fault(sheet(tmp_path / "a", counts=two)) == [("counts", 3, "place"), ("counts", 4, "number")]
    assert cells_at_fault(sheet(tmp_path / "b", counts=[], marks=[])) == [("history", 2, "counted")]
    assert cells_at_fault(sheet(tmp_path / "c", marks=[])) == [("history", 2, "counted")]
    assert cells_at_fault(sheet(tmp_path / "d", marks=[MARK, MARK])) == [("count_marks", 3, "entry")]
