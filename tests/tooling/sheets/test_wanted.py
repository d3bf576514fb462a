"""The sheet `wanted`: out and in again, twice, and what is refused at which cell."""

from datetime import date, timedelta

import pytest

from tests.tooling.sheets.books import cells_at_fault, content, taken, write_csv
from tests.tooling.sheets.shops import START, make_empty, make_shop
from tests.tooling.sheets.test_roundtrip import export
from tooling.models import Part, Person, Wanted
from tooling.services import deeds, wanted
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
SHOP = {"parts": [{"number": "K", "name": "Deck"}, *({"number": "F", "revision": one, "name": "Fin"} for one in "AB")]}
ROW = {"part": "K", "at": "2026-03-02 07:40", "by": "Ines"}


def sheet(path, *rows):
    return write_csv(path, {**SHOP, "wanted": list(rows)})


def facts():
    columns = ("part__number", "revision__revision", "count", "day", "at", "by__name", "off_at", "off_by__name")
    return list(Wanted.objects.in_order().values_list(*columns))


def test_what_goes_out_comes_in_equal(tmp_path):
    make_shop()
    part, ines = Part.objects.get(), Person.objects.named("Ines")
    first = wanted.want(part, by=ines, at=START, revision=part.revisions.first(), count=2, day=date(2026, 6, 1))
    wanted.take_off(first, by=ines, at=START + timedelta(hours=1))
    wanted.want(part, by=ines, at=START + timedelta(hours=2))
    before, out = facts(), export(tmp_path / "a.xlsx")
    make_empty()
    assert taken(out)["written"]["wanted"] == 2
    assert facts() == before
    assert content(export(tmp_path / "b.xlsx"))["wanted"] == content(out)["wanted"]
    assert taken(out)["written"]["wanted"] == 0


def test_rows_as_a_person_writes_them(tmp_path):
    rows = ({**ROW, "part": "k"}, {**ROW, "part": "F", "revision": "A", "count": 3, "off_at": "2026-03-02 08:00"})
    assert taken(sheet(tmp_path / "a", *rows))["written"]["wanted"] == 2
    assert [row[:3] for row in facts()] == [("K", None, 1), ("F", "A", 3)]
    assert taken(sheet(tmp_path / "b", *rows))["written"]["wanted"] == 0
    assert cells_at_fault(sheet(tmp_path / "c", {**ROW, "count": 2})) == [("wanted", 2, "part")]


def test_what_was_done_on_an_earlier_day_makes_room_as_on_the_screen(tmp_path):
    assert taken(sheet(tmp_path / "a", ROW))["written"]["wanted"] == 1
    mold = add_tool(code="M", kind="mold", name="Mold")
    done = START + timedelta(days=90)
    deeds.log_pull(mold, at=done, part="k", came_off="free", by=None, recorded_by=None)
    assert taken(sheet(tmp_path / "b", {**ROW, "at": "2026-05-02", "count": 2}))["written"]["wanted"] == 1
    assert list(Wanted.objects.in_order().values_list("count", "off_at")) == [(1, done), (2, None)]


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ({"part": "X"}, "part"),
        ({"revision": "Z"}, "revision"),
        ({"count": 0}, "count"),
        ({"count": -1}, "count"),
        ({"count": "1e9"}, "count"),
        ({"at": "2999-01-01"}, "at"),
        ({"off_at": "2026-03-01"}, "off_at"),
        ({"off_by": "Ines"}, "off_by"),
    ],
)
def test_what_cannot_be_is_said_at_its_cell_alone(tmp_path, row, column):
    assert cells_at_fault(sheet(tmp_path / "a", {**ROW, **row})) == [("wanted", 2, column)]
    assert not Wanted.objects.exists()
