"""The sheet `containment_marks`: only an empty shop takes it, with entries that its history has."""

import pytest

from tests.tooling.sheets.books import cells_at_fault, content, taken, write_csv
from tests.tooling.sheets.shops import make_empty
from tests.tooling.sheets.test_roundtrip import export
from tooling.models import ContainmentMark

pytestmark = pytest.mark.django_db
PULL = {"tool": "DECK", "at": "2026-03-02 15:00", "entry": "pull", "serial": "0171", "number": 4}
HOLD = {"tool": "DECK", "at": "2026-03-02 16:00", "entry": "hold", "number": 5}
MARK = {"entry": 5, "use": 4, "serial": "0171", "found": "good", "at": "2026-03-02 17:00", "by": "Ines"}
LOT = {"lot": "w14", "use": 4, "found": "not_good", "words": "soft", "at": "2026-03-02 17:01"}
LOT |= {"recorded_at": "2026-03-03 08:00"}
BACK = {**MARK, "at": "2026-03-02 16:30", "taken_back_at": "2026-03-02 16:31", "taken_back_by": "Ole"}


def sheet(path, *marks):
    tools = [{"code": "DECK", "kind": "mold", "name": "Deck"}]
    return write_csv(path, {"tools": tools, "history": [PULL, HOLD], "containment_marks": list(marks)})


def test_what_goes_out_comes_in_equal_and_again_is_harmless(tmp_path):
    assert taken(sheet(tmp_path / "a", MARK, LOT, BACK))["written"]["containment_marks"] == 3
    facts = (
        "of_entry",
        "of_lot",
        "use",
        "serial",
        "found",
        "words",
        "at",
        "by__name",
        "recorded_at",
        "taken_back_by__name",
    )
    before, out = list(ContainmentMark.objects.values_list(*facts)), export(tmp_path / "a.xlsx")
    make_empty()
    assert taken(out)["written"]["containment_marks"] == 3
    assert list(ContainmentMark.objects.values_list(*facts)) == before
    assert content(export(tmp_path / "b.xlsx"))["containment_marks"] == content(out)["containment_marks"]
    assert taken(out)["written"]["containment_marks"] == 0


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ({"entry": 9}, "entry"),
        ({"use": 5}, "use"),
        ({"lot": "W14"}, "entry"),
        ({"entry": ""}, "entry"),
        ({"found": "not_good"}, "words"),
        ({"at": "2999-01-01 10:00"}, "at"),
        ({"recorded_at": "2999-01-01 10:00"}, "recorded_at"),
        ({"taken_back_by": "Ole"}, "taken_back_at"),
    ],
)
def test_what_is_wrong_is_said_at_its_cell(tmp_path, row, column):
    assert cells_at_fault(sheet(tmp_path / "a", {**MARK, **row})) == [("containment_marks", 2, column)]
    assert not ContainmentMark.objects.exists()


def test_of_each_part_one_mark_stands(tmp_path):
    twice = {**MARK, "found": "not_good", "words": "soft"}
    assert cells_at_fault(sheet(tmp_path / "a", MARK, twice)) == [("containment_marks", 3, "use")]
