"""The same rows a second time are harmless; any other rows of a tool with a history are refused, each of them."""

from datetime import UTC, datetime

import pytest
from django.core.management import call_command

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv, write_xlsx
from tooling.models import Entry, Tool
from tooling.services import deeds

pytestmark = pytest.mark.django_db

RIM = {"code": "R1", "kind": "insert", "name": "Rim", "release_system": "W"}
SHEETS = {
    "release_systems": [{"code": "W", "name": "Wax", "family": "paste_wax"}],
    "places": [{"code": "A-1", "name": "Rack"}],
    "tools": [{"code": "M1", "kind": "mold", "name": "Deck", "aliases": "old deck", "release_system": "W"}, RIM],
    "history": [
        {"tool": "old deck", "at": "2026-03-02 08:00", "entry": "Coat", "count": 5, "reason": "Count", "by": "Mara"},
        {"tool": "R1", "at": "2026-03-02 08:00", "entry": "installed", "mold": "old deck"},
        {"tool": "M1", "at": "2026-03-03", "entry": "lay up", "part": "520", "earliest_pull": "2026-03-04 07:00"},
        {"tool": "M1", "at": "2026-03-04", "entry": "pull", "came_off": "tight", "surface": "r1", "by": "mara "},
        {"tool": "M1", "at": "2026-03-04", "entry": "moved", "place": "a-1", "home": "no", "area": "whole"},
        {"tool": "M1", "at": "2026-03-04", "entry": "reading", "value": "12.50", "quantity": "gloss"},
        {"tool": "M1", "at": "2026-03-04", "entry": "lent", "person": "Yard", "until": "2026-09-01"},
    ],
}


@pytest.fixture(params=["csv", "xlsx"])
def book(request, tmp_path):
    def write(**sheets):
        write_as = write_csv if request.param == "csv" else write_xlsx
        return write_as(tmp_path / ("b" if request.param == "csv" else "b.xlsx"), {**SHEETS, **sheets})

    assert taken(write())["errors"] == []
    return write


def test_the_same_workbook_twice_is_read_and_writes_nothing(book):
    report = taken(book())
    assert report["errors"] == []
    assert report["read"]["history"] == 7
    assert set(report["written"].values()) == {0}
    assert Entry.objects.count() == 7
    call_command("check_history")


@pytest.mark.parametrize(
    "change",
    [
        lambda rows: rows[:-1], lambda rows: [*rows[:-1], {**rows[-1], "person": "Wharf"}],
        lambda rows: [*rows, {"tool": "M1", "at": "2026-03-05", "entry": "accepted"}],
        lambda rows: [rows[0], rows[1], rows[3], rows[2], *rows[4:]],
        lambda rows: [{**rows[0], "count": 4}, *rows[1:]], lambda rows: [{**rows[0], "by": "Ole"}, *rows[1:]],
    ],
)  # fmt: skip
def test_any_other_rows_are_refused_each_of_them_and_of_that_tool_alone(book, change):
    rows = change(SHEETS["history"])
    wanted = [("history", number, "tool") for number, row in enumerate(rows, 2) if row["tool"] != "R1"]
    assert cells_at_fault(book(history=rows)) == wanted
    assert Entry.objects.count() == 7


def test_a_row_that_cannot_be_read_is_one_error_that_says_both(book):
    [*errors] = taken(book(history=[*SHEETS["history"][:-1], {**SHEETS["history"][-1], "until": "soon"}]))["errors"]
    assert [(error["row"], error["column"]) for error in errors] == [(n, "tool") for n in (2, 4, 5, 6, 7, 8)]
    assert "manage.py log_entry" in errors[0]["message"]
    assert "Also until:" in errors[-1]["message"]


def test_what_was_logged_since_is_no_longer_the_same(book):
    at = datetime(2026, 3, 5, tzinfo=UTC)
    deeds.log_pull(Tool.objects.get(code="M1"), at=at, by=None, recorded_by=None)
    assert {error["column"] for error in taken(book())["errors"]} == {"tool"}


def test_a_new_tool_beside_known_ones_gets_its_history(book):
    new = {"tool": "M2", "at": "2026-03-05", "entry": "coat"}
    tools = [*SHEETS["tools"], {"code": "M2", "kind": "mold", "name": "Hull", "release_system": "W"}]
    assert taken(book(tools=tools, history=[new, *SHEETS["history"]]))["written"]["history"] == 1
    call_command("check_history")
