"""The sheet `temperatures`: out and in again, twice, and what is refused."""

from datetime import timedelta
from decimal import Decimal

import pytest

from shared.units import US, read, unit_of
from tests.tooling.sheets.books import cells_at_fault, content, taken, write_csv
from tests.tooling.sheets.shops import START, make_empty, make_shop
from tests.tooling.sheets.test_roundtrip import export
from tooling.models import Person, Temperature
from tooling.services.temperature import measure, strike

pytestmark = pytest.mark.django_db
ROW = {"at": "2026-03-02 07:40", "value_c": "20.5", "by": "Jonas"}


def sheet(path, *rows):
    return write_csv(path, {"temperatures": list(rows)})


def facts():
    columns = ("at", "value_c", "by__name", "recorded_by__name", "recorded_at", "note", "struck_at", "struck_by__name",
               "struck_why", "as_typed")  # fmt: skip
    return list(Temperature.objects.order_by("at").values_list(*columns))


def test_out_and_in_again(tmp_path):
    make_shop()
    mara = Person.objects.named("Mara Ø")
    said = {"by": mara, "recorded_by": Person.objects.named("Wall"), "note": "=1+1"}
    measure(read("70", unit_of("°C", US)), at=START, **said)
    strike(measure(read("20", unit_of("°C", "metric")), **said), by=mara, reason="no, 21")
    before, first = facts(), export(tmp_path / "out.xlsx")
    make_empty()
    assert taken(first)["errors"] == []
    assert facts() == before
    assert content(export(tmp_path / "again.xlsx"))["temperatures"] == content(first)["temperatures"]
    assert taken(first)["written"]["temperatures"] == 0


def test_the_same_rows_again_are_harmless_and_others_are_added(tmp_path):
    path = sheet(tmp_path / "one", ROW, {**ROW, "at": "2026-03-03 07:40", "value_c": "-3"})
    assert taken(path)["written"] == {"temperatures": 2}
    assert taken(path)["written"] == {"temperatures": 0}
    assert taken(sheet(tmp_path / "two", {**ROW, "value_c": "21"}))["written"] == {"temperatures": 1}
    assert [one.value_c for one in Temperature.objects.newest_first()] == [-3, 21, Decimal("20.5")]


def test_what_cannot_be_is_named_by_row_and_column(tmp_path):
    soon = (START + timedelta(days=9000)).isoformat()
    rows = (ROW, {**ROW, "value_c": "61"}, {**ROW, "value_c": "mild"}, {**ROW, "at": soon}, ROW, {"at": ROW["at"]})
    wanted = [(3, "value_c"), (4, "value_c"), (5, "at"), (6, "at"), (7, "value_c")]
    assert cells_at_fault(sheet(tmp_path / "b", *rows)) == [("temperatures", *cell) for cell in wanted]
    assert not Temperature.objects.exists()


def test_what_an_export_alone_says_wants_an_empty_shop(tmp_path):
    make_shop()
    path = sheet(tmp_path / "b", {**ROW, "recorded_at": "2026-03-02 07:41"})
    assert cells_at_fault(path) == [("temperatures", 2, "recorded_at")]
