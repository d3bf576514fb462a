"""Rows of a history in any order, with and without recording numbers, and what only an empty shop takes."""

from datetime import UTC, datetime
from time import process_time

import pytest

from tests.tooling.sheets.books import cells_at_fault, write_csv
from tooling.models import Entry, Tool
from tooling.services import deeds
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db

TOOLS = [
    {"code": "M1", "kind": "mold", "name": "Deck"},
    {"code": "M2", "kind": "mold", "name": "Hull"},
    {"code": "I1", "kind": "insert", "name": "Rim"},
]
RECORDED = ("number", "replaces", "voids", "recorded_at", "recorded_by")


@pytest.fixture
def book(tmp_path):
    def write(history, **sheets):
        return write_csv(tmp_path / "book", {"tools": TOOLS, "history": history, **sheets})

    return write


def row(day, entry="note", tool="M1", **more):
    return {"tool": tool, "at": f"2026-03-{day:02}T08:00", "entry": entry, **more}


def put_in(day, mold="M1", **more):
    return row(day, "installed", "I1", mold=mold, **more)


def columns(path):
    return [(number, column) for _sheet, number, column in cells_at_fault(path)]


def test_without_numbers_the_order_of_the_file_is_that_of_recording(book):
    assert columns(book([row(3), row(1, tool="M2"), row(2)])) == []
    entries = Entry.objects.order_by("id").values_list("tool__code", "number", "at__day")
    assert list(entries) == [("M1", 1, 3), ("M2", 1, 1), ("M1", 2, 2)]


def test_numbers_are_kept_and_are_the_order_of_recording(book):
    history = [row(3, number=30, recorded_at="2026-04-01", recorded_by="Ole"), row(1, number=7), row(2, number=12.0)]
    assert columns(book(history)) == []
    entries = Entry.objects.order_by("id").values_list("id", "number", "at__day")
    assert list(entries) == [(7, 1, 1), (12, 2, 2), (30, 3, 3)]
    last = Entry.objects.get(pk=30)
    assert (last.recorded_at, last.recorded_by.name) == (datetime(2026, 4, 1, 12, tzinfo=UTC), "Ole")
    assert deeds.take_note(last.tool, note="next", by=None, recorded_by=None).pk == 31


def test_an_insert_may_be_installed_and_removed_in_any_order_of_rows(book):
    history = [
        put_in(5, "M2"),
        row(4, "removed", "I1"),
        put_in(2),
        row(3, "pull", surface="I1"),
        row(6, "removed", "I1"),
    ]
    assert columns(book(history)) == []
    assert Tool.objects.get(code="I1").summary.in_mold_of is None


def test_an_insert_in_two_molds_is_said_at_the_later_installation(book):
    assert columns(book([put_in(5, "M2"), put_in(2), row(6, "removed", "I1")])) == [(2, "mold")]


def test_a_bad_row_between_does_not_make_another_wrong(book):
    assert columns(book([put_in(2), row(3, "remove", "I1"), put_in(5, "M2")])) == [(3, "entry")]
    history = [put_in(2), {"tool": "I1", "at": "x", "entry": "removed"}, put_in(5, "M2")]
    assert columns(book(history)) == [(3, "at")]


def test_a_surface_is_reached_while_it_is_in_or_was_in_at_the_lay_up(book):
    history = [
        put_in(2), row(3, "lay_up"), row(4, "removed", "I1"), row(5, "pull", surface="I1"),
        row(6, "lay_up"), row(7, "pull", surface="I1"), row(8, "pull", surface="M1"), row(3, "note", surface="I1"),
    ]  # fmt: skip
    assert columns(book(history)) == [(7, "surface"), (9, "surface")]


def test_the_surface_of_an_insert_that_the_shop_has(book):
    mold, rim = add_tool(code="M1", kind="mold", name="Deck"), add_tool(code="I1", kind="insert", name="Rim")
    deeds.install(rim, mold=mold, at=datetime(2026, 3, 2, tzinfo=UTC), by=None, recorded_by=None)
    history = [row(1, "pull", surface="I1"), row(3, "pull", surface="I1")]
    assert columns(book(history)) == [(2, "surface")]
    own = row(1, "note", "I1")  # an insert with a history takes none, and its pulls are still judged by that history
    assert columns(book([history[1], own])) == [(3, "tool")]
    assert columns(book(history[1:])) == []
    assert rim.entries.count() == 1
    assert Tool.objects.get(pk=rim.pk).summary.total_pulls == 1


def test_a_second_starting_state_is_the_later_one(book):
    start = {"entry": "starting_state", "prepared": "no"}
    assert columns(book([row(9, **start), row(2, **start), row(3, tool="M2", **start)])) == [(3, "entry")]
    history = [row(9, number=1, **start), row(2, number=2, replaces=1, **start)]
    assert columns(book(history)) == []


def test_what_is_aimed_at_must_be_there_earlier_of_the_same_tool_and_still_stand(book):
    history = [
        row(1, number=1), row(2, number=2), row(3, number=3, tool="M2"),
        row(4, "void", number=4, voids=1), row(4, "void", number=5, voids=1), row(4, number=6, replaces=1),
        row(4, "void", number=7, voids=3), row(4, "void", number=8, voids=99), row(4, "void", number=9, voids=10),
        row(4, number=10, replaces=2), row(4, "void", number=11, voids=2), row(4, "void", number=12, voids=4),
        row(4, "void", number=13, voids=2, replaces=2),
    ]  # fmt: skip
    assert columns(book(history)) == [
        (6, "voids"), (7, "replaces"), (8, "voids"), (9, "voids"), (10, "voids"), (12, "voids"), (13, "voids"),
        (14, "replaces"),
    ]  # fmt: skip


def test_what_aims_at_a_row_that_is_wrong_itself_is_not_wrong(book):
    history = [row(1, number=1, count="x"), {**row(2), "at": "x", "number": 2}, row(3, "void", number=3, voids=1)]
    history.append(row(3, "void", number=4, voids=2))
    assert columns(book(history)) == [(2, "count"), (3, "at")]


def test_numbers_are_all_there_and_each_once(book):
    assert columns(book([row(1, number=1), row(2), row(3, number=1), row(4, number="x"), row(5, number=2)])) == [
        (3, "number"),
        (4, "number"),
        (5, "number"),
    ]


@pytest.mark.parametrize("column", RECORDED)
def test_only_an_empty_shop_takes_what_was_recorded(book, column):
    add_tool(code="M2", kind="mold", name="Hull")
    value = {"recorded_at": "2026-03-02", "recorded_by": "Ole"}.get(column, 1)
    entry = "void" if column == "voids" else "note"
    assert columns(book([row(1, entry, **{column: value})])) == [(2, column)]


def test_without_numbers_nothing_can_be_aimed_at(book):
    assert columns(book([row(1), row(2, "void", voids=1), row(2, replaces=1)])) == [(3, "voids"), (4, "replaces")]


def test_nothing_was_recorded_in_the_future(book):
    assert columns(book([row(1, number=1, recorded_at="2099-01-01")])) == [(2, "recorded_at")]


def test_a_tool_with_a_history_takes_no_rows(book):
    deeds.take_note(add_tool(code="M1", kind="mold", name="Deck"), note="x", by=None, recorded_by=None)
    assert columns(book([row(1), row(2, tool="M2"), row(3)])) == [(2, "tool"), (4, "tool")]


def test_rows_of_a_tool_whose_own_row_is_wrong_are_not_wrong(book):
    tools = [{"code": "M 1", "kind": "form", "name": "Deck"}, {"code": "I1", "kind": "insert", "name": None}]
    history = [row(1, "coat", tool="m 1"), row(2, "installed", "I1", mold="M 1"), row(3, "pull", "M 1", surface="I1")]
    assert cells_at_fault(book(history, tools=tools)) == [("tools", 2, "code"), ("tools", 3, "name")]


def test_a_sheet_of_tools_that_cannot_be_read_makes_no_entry_wrong(tmp_path):
    path = write_csv(tmp_path / "b", {"history": [row(1, "coat"), row(1, "coat", count="x")]})
    (path / "tools.csv").write_text("name,kind\nDeck,mold\n")
    assert cells_at_fault(path) == [("tools", 1, "code"), ("history", 3, "count")]


def test_many_pulls_that_name_a_surface_take_no_time(book):
    pulls = [{"tool": "M1", "at": f"2025-01-01T00:00:00.{n:06}", "entry": "pull", "surface": "I1"} for n in range(3000)]
    start = process_time()
    assert columns(book([{**put_in(1), "at": "2024-12-31"}, *pulls])) == []
    assert process_time() - start < 60
