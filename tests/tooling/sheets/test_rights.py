"""The sheet `rights`: out and in again, the same rows again, and what is refused."""

from datetime import date

import pytest

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tests.tooling.sheets.shops import START
from tooling.models import Person, Right
from tooling.services.rights import end, give
from tooling.services.sheets.rights import SHEET

pytestmark = pytest.mark.django_db
ROW = {"person": "Mara", "may": "free", "since": "2026-03-02"}


def sheet(path, *rows):
    return write_csv(path, {"rights": list(rows)})


def test_out_and_in_again(tmp_path, lead):
    right = give(Person.objects.named("Mara Ø"), "accept", since=date(2026, 3, 2), by=lead, at=START)
    for until in (date(2026, 5, 9), date(2026, 5, 2)):
        end(right, until=until, by=lead, at=START)
    before = list(SHEET.give())
    path = sheet(tmp_path / "out", *({k: str(v) for k, v in row.items()} for row in before))
    assert taken(path)["written"] == {"rights": 0}
    Right.objects.all().delete()
    assert taken(path)["written"] == {"rights": 1}
    assert list(SHEET.give()) == before


def test_what_cannot_be_is_named_by_row_and_column(tmp_path, station):
    later = {**ROW, "since": "2026-04-01"}
    rows = (
        ROW, later, {**ROW, "may": "all"}, {**ROW, "may": "accept", "until": "2026-03-01"},
        {**ROW, "may": "approve", "ended_by": "Ole"},
        {**ROW, "may": "approve", "until": "2026-05-02", "earlier": "soon"},
        {**ROW, "person": station.name}, {"person": "Mara", "may": "free"},
    )  # fmt: skip
    wanted = [(3, "since"), (4, "may"), (5, "until"), (6, "ended_by"), (7, "earlier"), (8, "person"), (9, "since")]
    assert cells_at_fault(sheet(tmp_path / "b", *rows)) == [("rights", *cell) for cell in wanted]
    assert not Right.objects.exists()
    assert taken(sheet(tmp_path / "c", ROW, {**ROW, "may": "accept"}))["written"] == {"rights": 2}
