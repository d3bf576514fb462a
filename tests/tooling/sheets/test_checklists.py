"""The sheet `checklists`: typed by hand, the same rows again, and what is refused."""

import pytest

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tooling.models import Checklist
from tooling.selectors.checklists import version_of
from tooling.services.checklists import Item, items_of

pytestmark = pytest.mark.django_db
ROW = {"kind": "mold", "item": "Edges: no chips"}
GLOSS = {**ROW, "item": "Gloss", "quantity": "gloss", "unit": "GU", "geometry": "60°", "spots": 3}


def sheet(path, *rows):
    return write_csv(path, {"checklists": list(rows)})


def test_rows_typed_by_hand_are_the_first_version_and_again_are_harmless(tmp_path):
    path = sheet(tmp_path / "one", {**GLOSS, "order": 9}, {**ROW, "made_by": ""})
    assert taken(path)["written"] == {"checklists": 2}
    stands = items_of(version_of("mold", "look_over", 1))
    assert {one.words for one in stands} == {"Edges: no chips", "Gloss"}
    assert Item("Gloss", "gloss", "GU", "60°", 3) in stands
    assert taken(sheet(tmp_path / "two", GLOSS, ROW))["written"] == {"checklists": 0}
    other = {**GLOSS, "spots": 2}, {**ROW, "version": 2}
    assert cells_at_fault(sheet(tmp_path / "three", *other)) == [("checklists", 2, "item"), ("checklists", 3, "item")]


def test_what_cannot_be_is_named_by_row_and_column(tmp_path):
    early = {**ROW, "version": 2, "valid_from": "2026-03-01 08:00"}
    rows = [
        {**ROW, "valid_from": "2026-03-02 08:00"},
        {**ROW, "item": "edges: NO chips", "valid_from": "2026-03-02 08:00"},
        {**GLOSS, "unit": "", "valid_from": "2026-03-02 08:00"},
        {**ROW, "item": "Frame"},
        early,
        {**ROW, "kind": "jig"},
        {"kind": "plug"},
        {"kind": "plug", "item": "Base"},
    ]
    wanted = [(3, "item"), (4, "unit"), (5, "version"), (6, "valid_from"), (7, "kind"), (9, "item")]
    assert cells_at_fault(sheet(tmp_path / "b", *rows)) == [("checklists", *cell) for cell in wanted]
    assert not Checklist.objects.exists()


def test_a_version_in_which_nothing_is_asked_is_one_row(tmp_path):
    rows = {**ROW, "valid_from": "2026-03-02 08:00"}, {"kind": "mold", "version": 2, "valid_from": "2026-04-02 08:00"}
    assert taken(sheet(tmp_path / "b", *rows))["written"] == {"checklists": 2}
    assert [items_of(version_of("mold", "look_over", number)) for number in (1, 2)] == [[Item("Edges: no chips")], []]
