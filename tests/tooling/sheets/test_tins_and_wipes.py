"""Tins, and that coats were wiped: out of one shop and into another."""

import pytest

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tests.tooling.sheets.shops import make_empty
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Entry, Tin, Wipe
from tooling.services.sheets.exporting import export_shop
from tooling.services.tins import open_tin
from tooling.services.wiping import wipe

__all__ = ["shop"]
pytestmark = pytest.mark.django_db
COAT = {"tool": "M1", "at": "2026-03-02 08:00", "entry": "coat"}
SHEETS = {
    "release_systems": [{"code": "W", "name": "Wax", "family": "paste_wax"}],
    "tools": [{"code": "M1", "kind": "mold", "name": "Deck", "release_system": "W"}],
}
TIN = {"open_at": "Wall", "release_system": "W", "stuff": "coat", "lot": "14", "opened_at": "2026-03-02 07:00"}


def test_what_goes_out_comes_in_equal(tmp_path, shop, hand, station):
    for lot in ("13", "14"):
        open_tin(shop.wax, holder=station, stuff="coat", lot=lot, by=hand)
    wipe(Entry.objects.filter(kind="coat"), by=hand, recorded_by=station)
    export_shop(tmp_path / "a")
    make_empty()
    assert taken(tmp_path / "a")["errors"] == []
    assert taken(tmp_path / "a")["written"]["tins"] == 0
    export_shop(tmp_path / "b")
    for sheet in ("tins", "history"):
        assert (tmp_path / "b" / f"{sheet}.csv").read_text() == (tmp_path / "a" / f"{sheet}.csv").read_text()
    assert (Wipe.objects.count(), Tin.objects.open().get().lot) == (2, "14")


def test_an_older_sheet_of_a_wiped_coat_is_still_the_same(tmp_path):
    assert taken(write_csv(tmp_path / "a", {**SHEETS, "history": [COAT]}))["errors"] == []
    Wipe.objects.create(coat=Entry.objects.get(), at=Entry.objects.get().at)
    assert taken(write_csv(tmp_path / "b", {"history": [COAT]}))["errors"] == []


@pytest.mark.parametrize(
    ("sheet", "row", "column"),
    [
        ("history", {**COAT, "entry": "strip", "wiped_at": "2026-03-02 08:20"}, "wiped_at"),
        ("history", {**COAT, "wiped_at": "2190-03-02"}, "wiped_at"),
        ("history", {**COAT, "wiped_by": "Mara"}, "wiped_at"),
        ("tins", {**TIN, "release_system": "X"}, "release_system"),
        ("tins", {**TIN, "stuff": "paint"}, "stuff"),
        ("tins", {**TIN, "closed_at": "2026-03-01"}, "closed_at"),
        ("tins", {**TIN, "opened_at": "2190-03-02"}, "opened_at"),
    ],
)
def test_what_cannot_be_is_said_at_its_cell(tmp_path, sheet, row, column):
    assert cells_at_fault(write_csv(tmp_path / "a", {**SHEETS, sheet: [row]})) == [(sheet, 2, column)]


def test_two_tins_are_not_open_in_one_place(tmp_path):
    rows = [TIN, {**TIN, "lot": "15"}]
    assert cells_at_fault(write_csv(tmp_path / "a", {**SHEETS, "tins": rows})) == [("tins", 3, "closed_at")]
