"""The sheet `making_steps`: out and in again, the same rows again, and what is refused."""

import pytest

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tooling.models import MakingStep
from tooling.services.making_steps import STARTERS, Step, add_starter, steps_of

pytestmark = pytest.mark.django_db
ROW = {"kind": "mold", "name": "Edges cut"}


def sheet(path, *rows):
    return write_csv(path, {"making_steps": list(rows)})


def test_rows_without_an_order_stand_as_in_the_sheet_and_again_are_harmless(tmp_path):
    last = {"kind": "mold", "name": "Laid up", "by_entry": "lay up", "order": 9}
    path = sheet(tmp_path / "one", last, ROW, {**ROW, "name": "Polished", "note": "by hand"})
    assert taken(path)["written"] == {"making_steps": 3}
    assert steps_of("mold") == [Step("Edges cut"), Step("Polished", "", "by hand"), Step("Laid up", "lay_up")]
    assert taken(path)["written"] == {"making_steps": 0}
    assert cells_at_fault(sheet(tmp_path / "two", {**ROW, "note": "another"})) == [("making_steps", 2, "name")]


def test_what_cannot_be_is_named_by_row_and_column(tmp_path):
    sealed = {"kind": "trim mask", "name": "Sealed", "by_entry": "sealer"}
    twice, no_kind, no_entry = (
        {**ROW, "name": "edges CUT"},
        {**ROW, "kind": "jig"},
        {**ROW, "name": "x", "by_entry": "note"},
    )
    rows = (ROW, twice, no_kind, {"kind": "mold"}, sealed, no_entry)
    wanted = [(3, "name"), (4, "kind"), (5, "name"), (6, "by_entry"), (7, "by_entry")]
    assert cells_at_fault(sheet(tmp_path / "b", *rows)) == [("making_steps", *cell) for cell in wanted]
    assert not MakingStep.objects.exists()


def test_starter_lists_go_in_as_they_came_out(tmp_path):
    for kind in STARTERS:
        add_starter(kind)
    before = [steps_of(kind) for kind in STARTERS]
    columns = ("kind", "order", "name", "by_entry", "note")
    rows = list(MakingStep.objects.values(*columns))
    MakingStep.objects.all().delete()
    assert taken(sheet(tmp_path / "out", *rows))["errors"] == []
    assert [steps_of(kind) for kind in STARTERS] == before
