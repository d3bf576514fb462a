"""Workbooks with bad rows: each is named once, by sheet, row and column, and nothing that is right is named."""

import pytest

from shared import clock
from tests.tooling.sheets.books import cells_at_fault, taken, write_csv, write_xlsx
from tooling.models import Entry, Part, Person, Place, ReleaseSystem, Shop, Tool

pytestmark = pytest.mark.django_db

_OK = object()

# Per sheet: the column at fault (_OK: none), and the row.
SHEETS = {
    "release_systems": [
        (_OK, {"code": "W", "name": "Wax", "family": "paste_wax", "accepts": "s"}),
        (_OK, {"code": " s ", "name": "Semi", "family": "Semi_Permanent", "pulls_between": "5.0"}),
        (_OK, {"code": "W", "name": "Wax 2", "family": "paste_wax", "valid_from": "2026-01-01"}),
        ("code", {"code": "W", "name": "Wax again", "family": "paste_wax"}),
        ("code", {"code": "W 3", "name": "Space", "family": "other"}),
        ("family", {"code": "F", "name": "Family", "family": "soap"}),
        ("pulls_between", {"code": "N0", "name": "Zero", "family": "other", "pulls_between": 0}),
        ("coats_new", {"code": "N1", "name": "Half", "family": "other", "coats_new": "2.5"}),
        ("break_in", {"code": "N2", "name": "Break", "family": "other", "break_in": "1,x"}),
        ("film_every_pull", {"code": "N3", "name": "Film", "family": "other", "film_every_pull": "maybe"}),
        ("accepts", {"code": "N4", "name": "Accepts", "family": "other", "accepts": "W, NONE"}),
        ("valid_from", {"code": "LATE", "name": "No first", "family": "other", "valid_from": "2026-01-01"}),
        ("name", {"code": "N5", "name": " ", "family": "other"}),
        (_OK, {"code": "N6", "name": "Accepts a bad one", "family": "other", "accepts": "F"}),
    ],
    "places": [
        (_OK, {"code": "A", "name": "Rack", "parent": "room"}),
        (_OK, {"code": "ROOM", "name": "Room"}),
        ("code", {"code": "a", "name": "Again"}),
        ("parent", {"code": "B", "name": "Lost", "parent": "NOWHERE"}),
        (_OK, {"code": "L1", "name": "Loop", "parent": "L2"}),
        ("parent", {"code": "L2", "name": "Loop", "parent": "L1"}),
        ("parent", {"code": "ME", "name": "Within itself", "parent": "ME"}),
        ("code", {"code": "Rack 9", "name": "Impossible"}),
        (_OK, {"code": "C", "name": "In a bad one", "parent": "rack  9"}),
        ("height_mm", {"code": "D", "name": "Low", "height_mm": -1}),
        ("code", {"code": None, "name": "No code"}),
    ],
    "parts": [
        (_OK, {"number": 520, "revision": "A", "name": "Deck"}),
        (_OK, {"number": "520", "revision": "B", "name": "Deck"}),
        ("number", {"number": "520", "revision": "A", "name": "Deck"}),
        ("name", {"number": "521", "revision": "A"}),
        ("cure_c", {"number": "522", "name": "Hot", "cure_c": "hot"}),
    ],
    "tools": [
        (_OK, {"code": "M1", "kind": "mold", "name": "Deck", "release_system": "w", "made_from": "p1"}),
        (_OK, {"code": "P1", "kind": "Plug", "name": "Plug", "release_system": "W", "aliases": "old plug, 7"}),
        (_OK, {"code": "I1", "kind": "insert", "name": "Rim", "release_system": "W"}),
        (_OK, {"code": "M2", "kind": "mold", "name": "Hull", "release_system": "W"}),
        (_OK, {"code": "T1", "kind": "trim_mask", "name": "Mask"}),
        ("code", {"code": "m1", "kind": "mold", "name": "Again"}),
        ("code", {"code": 7, "kind": "mold", "name": "Was the plug's"}),
        ("aliases", {"code": "M3", "kind": "mold", "name": "Takes", "aliases": "M2"}),
        ("code", {"code": "M/4", "kind": "mold", "name": "Slash", "release_system": "W"}),
        ("kind", {"code": "M5", "kind": "form", "name": "Kind"}),
        ("release_system", {"code": "M6", "kind": "mold", "name": "Recipe", "release_system": "NONE"}),
        (_OK, {"code": "M7", "kind": "mold", "name": "Bad recipe", "release_system": "F"}),
        ("place", {"code": "M8", "kind": "mold", "name": "Place", "place": "NOWHERE"}),
        (_OK, {"code": "M9", "kind": "mold", "name": "In a bad place", "place": "Rack 9"}),
        ("made_from", {"code": "M10", "kind": "mold", "name": "Source", "made_from": "M99"}),
        (_OK, {"code": "M11", "kind": "mold", "name": "Loop", "made_from": "M12"}),
        ("made_from", {"code": "M12", "kind": "mold", "name": "Loop", "made_from": "M11"}),
        ("mass_kg", {"code": "M13", "kind": "mold", "name": "Mass", "mass_kg": "heavy"}),
        ("in_making", {"code": "M14", "kind": "mold", "name": "Making", "in_making": "perhaps"}),
        ("hand", {"code": "M15", "kind": "mold", "name": "Hand", "hand": "left"}),
        ("built_on", {"code": "M16", "kind": "mold", "name": "Built", "built_on": "spring"}),
        ("inspect_every_pulls", {"code": "M17", "kind": "mold", "name": "Look", "inspect_every_pulls": 0}),
        (_OK, {"code": "M18", "kind": "mold", "name": "From a bad one", "made_from": "M/4"}),
        ("in_place_of", {"code": "M19", "kind": "mold", "name": "After", "in_place_of": "M99"}),
        ("in_place_of", {"code": "M20", "kind": "mold", "name": "After itself", "in_place_of": "M20"}),
        (_OK, {"code": "M21", "kind": "mold", "name": "After a bad one", "in_place_of": "M20", "made_from": "P1"}),
    ],
    "history": [
        (_OK, {"tool": "m1", "at": "2026-03-02 08:00", "entry": "Coat", "count": 5, "reason": "Count"}),
        (_OK, {"tool": "old plug", "at": "2026-03-02 08:00", "entry": "coat"}),
        (_OK, {"tool": "M/4", "at": "2026-03-02 08:00", "entry": "coat"}),
        ("entry", {"tool": "M/4", "at": "2026-03-02 08:00", "entry": "wax"}),
        ("tool", {"tool": "M99", "at": "2026-03-02 08:00", "entry": "coat"}),
        ("tool", {"tool": None, "at": "2026-03-02 08:00", "entry": "coat"}),
        ("at", {"tool": "M1", "at": None, "entry": "coat"}),
        ("at", {"tool": "M1", "at": "yesterday", "entry": "coat"}),
        ("at", {"tool": "M1", "at": "2099-01-01", "entry": "coat"}),
        ("at", {"tool": "M1", "at": "2026-03-08 02:30", "entry": "coat"}),
        ("count", {"tool": "M1", "at": "2026-03-02", "entry": "coat", "count": 0}),
        ("count", {"tool": "M1", "at": "2026-03-02", "entry": "pull", "count": 501}),
        ("area", {"tool": "M1", "at": "2026-03-02", "entry": "coat", "area": "half"}),
        ("came_off", {"tool": "M1", "at": "2026-03-03", "entry": "pull", "came_off": "easy"}),
        ("came_off", {"tool": "M1", "at": "2026-03-03", "entry": "coat", "came_off": "free"}),
        ("film", {"tool": "M1", "at": "2026-03-03", "entry": "pull", "film": "2"}),
        ("release_system", {"tool": "M1", "at": "2026-03-03", "entry": "coat", "release_system": "NONE"}),
        ("release_system", {"tool": "M1", "at": "2026-03-03", "entry": "release_system"}),
        ("release_system", {"tool": "M1", "at": "2026-03-03", "entry": "release_system", "release_system": "W"}),
        (_OK, {"tool": "M1", "at": "2026-03-05", "entry": "release_system", "release_system": "W"}),
        (_OK, {"tool": "M1", "at": "2026-03-04", "entry": "release_system", "release_system": "S"}),
        ("cause", {"tool": "M1", "at": "2026-03-03", "entry": "pull", "cause": "wind"}),
        ("fault", {"tool": "M1", "at": "2026-03-03", "entry": "pull", "fault": "wind"}),
        ("tool_damaged", {"tool": "M1", "at": "2026-03-03", "entry": "pull", "tool_damaged": "some"}),
        ("reason", {"tool": "M1", "at": "2026-03-03", "entry": "coat", "reason": "because"}),
        (_OK, {"tool": "M1", "at": "2026-03-03", "entry": "hold", "reason": "because"}),
        ("passed", {"tool": "M1", "at": "2026-03-03", "entry": "inspected"}),
        ("passed", {"tool": "M1", "at": "2026-03-03", "entry": "release_check", "passed": "good"}),
        ("prepared", {"tool": "M2", "at": "2026-01-03", "entry": "starting_state", "prepared": "half"}),
        ("touch_ups", {"tool": "P1", "at": "2026-01-03", "entry": "starting_state", "touch_ups": -1}),
        ("pulls_since_coat", {"tool": "I1", "at": "2026-01-03", "entry": "starting_state", "pulls_since_coat": 501}),
        ("total_pulls", {"tool": "M7", "at": "2026-01-03", "entry": "starting_state", "total_pulls": 1_000_001}),
        ("entry", {"tool": "M2", "at": "2026-01-02", "entry": "starting_state", "prepared": "no"}),
        ("mold", {"tool": "I1", "at": "2026-03-02", "entry": "installed"}),
        ("mold", {"tool": "I1", "at": "2026-03-02", "entry": "installed", "mold": "P1"}),
        ("entry", {"tool": "P1", "at": "2026-03-02", "entry": "installed", "mold": "M1"}),
        ("entry", {"tool": "T1", "at": "2026-03-02", "entry": "coat"}),
        ("entry", {"tool": "M1", "at": "2026-03-02", "entry": "used"}),
        ("surface", {"tool": "M2", "at": "2026-03-02", "entry": "pull", "surface": "P1"}),
        ("surface", {"tool": "M2", "at": "2026-03-02", "entry": "pull", "surface": "I9"}),
        ("place", {"tool": "M1", "at": "2026-03-02", "entry": "moved", "place": "NOWHERE"}),
        (_OK, {"tool": "M1", "at": "2026-03-02", "entry": "moved", "place": "rack 9"}),
        ("until", {"tool": "M1", "at": "2026-03-02", "entry": "lent", "until": "soon", "person": "Yard"}),
        ("until", {"tool": "M1", "at": "2026-03-02", "entry": "lent", "until": "2026-03-01", "person": "Yard"}),
        (_OK, {"tool": "M1", "at": "2026-03-02", "entry": "lent", "until": "2026-03-02"}),
        (_OK, {"tool": "M1", "at": "2026-03-02", "entry": "lent", "until": "2026-03-01", "recorded_at": "2026-03-02"}),
        ("value", {"tool": "M1", "at": "2026-03-02", "entry": "reading", "value": "much"}),
        ("earliest_pull", {"tool": "M1", "at": "2026-03-02", "entry": "lay_up", "earliest_pull": "later"}),
        (_OK, {"tool": "M2", "at": "2026-03-02", "entry": "note", "came_off": None, "lot": "kept", "person": "kept"}),
        ("voids", {"tool": "M1", "at": "2026-03-02", "entry": "void"}),
        ("voids", {"tool": "M1", "at": "2026-03-02", "entry": "coat", "voids": 1}),
        (_OK, {"tool": "M2", "at": "2026-03-02", "entry": "note", "by": "Mara"}),
    ],
}
SHOP = [{"name": "Works", "time_zone": "America/New_York"}]


def wanted():
    return [
        (sheet, number, column)
        for sheet, rows in SHEETS.items()
        for number, (column, _row) in enumerate(rows, 2)
        if column is not _OK
    ]


def book():
    return {"shop": SHOP, **{sheet: [row for _column, row in rows] for sheet, rows in SHEETS.items()}}


@pytest.mark.parametrize("write", [write_csv, write_xlsx])
def test_each_bad_row_is_named_once_and_no_other(write, tmp_path):
    found = cells_at_fault(write(tmp_path / ("b.xlsx" if write is write_xlsx else "b"), book()))
    assert sorted(set(found) - set(wanted())) == []
    assert sorted(set(wanted()) - set(found)) == []
    assert len(found) == len(wanted())
    for model in (Shop, ReleaseSystem, Place, Part, Tool, Entry, Person):
        assert not model.objects.exists()


def test_without_its_bad_rows_nothing_is_wrong_with_the_book(tmp_path):
    good = {sheet: [row for column, row in rows if column is _OK] for sheet, rows in SHEETS.items()}
    for sheet, code in (("release_systems", "N6"), ("places", "L1"), ("places", "C"), ("tools", "M11")):
        good[sheet] = [row for row in good[sheet] if row["code"] != code]
    good["tools"] = [row for row in good["tools"] if row["code"] not in ("M7", "M9", "M18", "M21")]
    good["history"] = [row for row in good["history"] if row["tool"] != "M/4" and row.get("place") != "rack 9"]
    report = taken(write_csv(tmp_path / "good", {"shop": SHOP, **good}))
    assert report["errors"] == []
    assert report["written"] == report["read"] == {sheet: len(rows) for sheet, rows in {"shop": SHOP, **good}.items()}


def test_an_error_in_the_last_row_leaves_nothing_half_written(tmp_path):
    rows = [{"tool": "M1", "at": "2026-03-02", "entry": "coat"}] * 50
    rows.append({"tool": "M1", "at": "2026-03-02", "entry": "coat", "count": "x"})
    tools = [{"code": "M1", "kind": "mold", "name": "Deck"}]
    report = taken(write_csv(tmp_path / "b", {"tools": tools, "history": rows}))
    assert report["read"] == {"tools": 1, "history": 51}
    assert report["written"] == {"tools": 0, "history": 0}
    assert [error["row"] for error in report["errors"]] == [52]
    assert not Tool.objects.exists()


def test_messages_say_what_to_change(tmp_path):
    report = taken(write_csv(tmp_path / "b", book()))
    said = {(error["sheet"], error["row"]): error["message"] for error in report["errors"]}
    assert "Try M-4." in said["tools", 10]
    assert "Try RACK-9." in said["places", 9]
    assert said["places", 5] == "There is no place NOWHERE in the shop or in these sheets."
    assert "does not exist" in said["history", 11]
    assert said["history", 6] == "There is no tool M99 in the shop or in these sheets."


def test_two_wrong_cells_of_a_row_are_one_error_that_says_both(tmp_path):
    rows = [{"code": "M1", "kind": "form", "name": "Deck", "mass_kg": "x"}]
    [error] = taken(write_csv(tmp_path / "b", {"tools": rows}))["errors"]
    assert (error["column"], "Also mass_kg:" in error["message"]) == ("kind", True)


def test_five_minutes_of_future_are_good(tmp_path, time_machine):
    time_machine.move_to("2026-03-02T12:00:00Z", tick=False)
    assert clock.now().isoformat() == "2026-03-02T12:00:00+00:00"
    tools = [{"code": "M1", "kind": "mold", "name": "Deck"}]
    history = [{"tool": "M1", "at": f"2026-03-02T12:0{minute}Z", "entry": "coat"} for minute in (4, 5, 6)]
    assert cells_at_fault(write_csv(tmp_path / "b", {"tools": tools, "history": history})) == [("history", 4, "at")]
