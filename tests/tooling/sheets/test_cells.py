"""What a person means by a cell, in both formats."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import openpyxl
import pytest

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv, write_xlsx
from tooling.models import Entry, PartRevision, Person, Place, Shop, Tool

pytestmark = pytest.mark.django_db

MOLD = {"code": "M1", "kind": "mold", "name": "Deck"}


@pytest.fixture(params=["csv", "xlsx"])
def book(request, tmp_path):
    """Writes sheets in one format and takes them in."""

    def write(sheets):
        if request.param == "csv":
            return write_csv(tmp_path / "book", sheets)
        return write_xlsx(tmp_path / "book.xlsx", sheets)

    write.is_csv = request.param == "csv"
    return write


def entry(zone="UTC", **row):
    return {
        "shop": [{"name": "Works", "time_zone": zone}],
        "tools": [MOLD],
        "history": [{"tool": "M1", "at": "2026-03-02 08:00", "entry": "note", **row}],
    }


@pytest.mark.parametrize(
    ("typed", "code"),
    [(520, "520"), (0, "0"), (520.0, "520"), ("007", "007"), ("520.0", "520.0"), (" k-1 ", "K-1"), (12.5, "12.5")],
)
def test_a_code_that_is_a_number(book, typed, code):
    if book.is_csv and typed == 520.0:
        typed = 520  # a table says 520.0 in letters: nobody knows what was meant
    assert taken(book({"places": [{"code": typed, "name": 7}]}))["errors"] == []
    assert Place.objects.get().code == code
    assert Place.objects.get().name == "7"


def test_codes_meet_whether_they_are_numbers_or_text(tmp_path):
    sheets = entry(tool=520.0, at="2026-03-02", part=520, serial=173)
    sheets["tools"] = [{**MOLD, "code": 520, "aliases": 7}]
    sheets["history"].append({"tool": "7", "at": "2026-03-02", "entry": "note", "part": "520", "serial": "0173"})
    assert taken(write_xlsx(tmp_path / "b.xlsx", sheets))["errors"] == []
    assert list(Entry.objects.values_list("tool__code", "part", "serial")) == [
        ("520", "520", "173"),
        ("520", "520", "0173"),
    ]


def test_a_number_in_a_format_of_zeros_has_its_zeros(tmp_path):
    path = write_xlsx(tmp_path / "b.xlsx", {"places": [{"code": 7, "name": "Rack"}, {"code": 8, "name": "Rack"}]})
    opened = openpyxl.load_workbook(path)
    opened["places"]["A2"].number_format = "000"
    opened["places"]["A3"].number_format = "0"
    opened.save(path)
    assert taken(path)["errors"] == []
    assert list(Place.objects.order_by("id").values_list("code", flat=True)) == ["007", "8"]


@pytest.mark.parametrize(
    ("typed", "instant"),
    [
        ("2026-03-02T08:00", "2026-03-02T13:00Z"),
        ("2026-03-02 08:00:30.5", "2026-03-02T13:00:30.500000Z"),
        (" 2026-03-02 ", "2026-03-02T17:00Z"),
        ("2026-03-02T08:00Z", "2026-03-02T08:00Z"),
        ("2026-03-02T08:00+02:00", "2026-03-02T06:00Z"),
        ("2026-11-01 01:30", "2026-11-01T05:30Z"),
        ("2026-11-01T01:30-05:00", "2026-11-01T06:30Z"),
    ],
)
def test_a_time_is_in_the_zone_of_the_shop_sheet(book, typed, instant, time_machine):
    time_machine.move_to("2027-01-01T12:00Z")
    assert taken(book(entry("America/New_York", at=typed)))["errors"] == []
    assert Entry.objects.get().at == datetime.fromisoformat(instant)


def test_without_a_shop_sheet_a_time_is_in_the_shops_zone(book):
    Shop(name="Works", time_zone="Asia/Tokyo").save()
    sheets = entry(at="2026-03-02 09:00")
    del sheets["shop"]
    assert taken(book(sheets))["errors"] == []
    assert Entry.objects.get().at == datetime(2026, 3, 2, tzinfo=UTC)


@pytest.mark.parametrize(
    ("cell", "number_format", "instant"),
    [
        (datetime(2026, 3, 2, 8), "yyyy-mm-dd hh:mm", datetime(2026, 3, 2, 8)),
        (datetime(2026, 3, 2), "yyyy-mm-dd hh:mm", datetime(2026, 3, 2)),
        (datetime(2026, 3, 2), "yyyy-mm-dd", datetime(2026, 3, 2, 12)),
        (date(2026, 3, 2), "dd/mm/yyyy", datetime(2026, 3, 2, 12)),
        (datetime(2026, 3, 2, 23, 59, 59), "m/d/yy h:mm", datetime(2026, 3, 2, 23, 59, 59)),
        (46083.33333, "yyyy-mm-dd hh:mm:ss", datetime(2026, 3, 2, 8)),
        (datetime(2026, 3, 2, 8, 0, 0, 250_000), "hh:mm:ss.000", datetime(2026, 3, 2, 8, 0, 0, 250_000)),
    ],
)
def test_a_date_of_the_spreadsheet(tmp_path, cell, number_format, instant):
    path = write_xlsx(tmp_path / "b.xlsx", entry(at=cell))
    opened = openpyxl.load_workbook(path)
    opened["history"]["B2"].number_format = number_format
    opened.save(path)
    assert taken(path)["errors"] == []
    assert Entry.objects.get().at == instant.replace(tzinfo=UTC)


def test_every_minute_of_a_day_comes_back_as_it_is(tmp_path):
    minutes = [datetime(2026, 3, 2) + timedelta(minutes=minute) for minute in range(1440)]
    rows = [{"tool": "M1", "at": minute, "entry": "note"} for minute in minutes]
    assert taken(write_xlsx(tmp_path / "b.xlsx", {"tools": [MOLD], "history": rows}))["errors"] == []
    stored = Entry.objects.order_by("id").values_list("at", flat=True)
    assert list(stored) == [minute.replace(tzinfo=UTC) for minute in minutes]


@pytest.mark.parametrize("typed", ["02.03.2026", "March 2", "2026-13-01", "8:00", 46083, "0001-01-01T00:00+14:00"])
def test_what_is_no_time_is_refused(book, typed):
    assert cells_at_fault(book(entry(at=typed))) == [("history", 2, "at")]


def test_an_hour_that_the_clocks_jump_over_is_refused(tmp_path):
    sheets = entry("America/New_York", at=datetime(2026, 3, 8, 2, 30))
    assert cells_at_fault(write_xlsx(tmp_path / "b.xlsx", sheets)) == [("history", 2, "at")]


@pytest.mark.parametrize(("typed", "said"), [("yes", True), (" YES ", True), ("No", False), (None, None)])
def test_yes_and_no(book, typed, said):
    assert taken(book(entry(entry="pull", film=typed)))["errors"] == []
    assert Entry.objects.get().film is said


def test_the_yes_and_no_of_a_spreadsheet(tmp_path):
    assert taken(write_xlsx(tmp_path / "b.xlsx", entry(entry="pull", film=True, part_damaged=False)))["errors"] == []
    assert (Entry.objects.get().film, Entry.objects.get().payload["part_damaged"]) == (True, False)


@pytest.mark.parametrize(("typed", "count"), [(5, 5), (5.0, 5), ("5.0", 5), (" 5 ", 5), (None, 1)])
def test_five_is_five(book, typed, count):
    assert taken(book(entry(entry="coat", count=typed)))["errors"] == []
    assert Entry.objects.get().count == count


@pytest.mark.parametrize(("typed", "number"), [(0.1 + 0.2, "0.3"), ("42.125", "42.125"), (1e-6, "0.000001"), (0, "0")])
def test_numbers_without_loss(book, typed, number):
    assert taken(book({"tools": [{**MOLD, "mass_kg": typed}]}))["errors"] == []
    assert str(Tool.objects.get().mass_kg) == number


@pytest.mark.parametrize("typed", ["1e400", "NaN", "sNaN", "inf", "1,5", "12 kg", 10**12, True])
def test_what_is_no_number_is_refused(book, typed):
    assert cells_at_fault(book({"tools": [{**MOLD, "mass_kg": typed}]})) == [("tools", 2, "mass_kg")]


def test_words_of_a_sheet_have_no_case_and_no_outer_spaces(book):
    sheets = {" Tools ": [{" CODE": "m1", "Kind ": " MOLD ", "name": "  Deck   mold "}]}
    assert taken(book(sheets))["errors"] == []
    assert list(Tool.objects.values_list("code", "kind", "name")) == [("M1", "mold", "Deck mold")]


@pytest.mark.parametrize("spelled", ["mold insert", "Mold-insert", "insert", " mold  insert "])
def test_a_mold_insert_is_an_insert(book, spelled):
    assert (
        taken(book({"tools": [{**MOLD, "kind": spelled}, {**MOLD, "code": "T1", "kind": "Trim mask"}]}))["errors"] == []
    )
    assert list(Tool.objects.order_by("code").values_list("kind", flat=True)) == ["insert", "trim_mask"]


def test_spaces_and_hyphens_of_a_word_do_not_matter(book):
    recipes = [{"code": "W", "name": "Wax", "family": "Paste wax", "break_in_on": "new surface"}]
    said = {"tool": "M1", "at": "2026-03-02"}
    history = [
        {**said, "entry": "Starting state"}, {**said, "entry": "lay-up"},
        {**said, "entry": "pull", "fault": "Fish-eye"}, {**said, "entry": "coat", "reason": "came off"},
    ]  # fmt: skip
    assert taken(book({"release_systems": recipes, "tools": [MOLD], "history": history}))["errors"] == []
    kinds = Entry.objects.order_by("id").values_list("kind", flat=True)
    assert list(kinds) == ["starting_state", "lay_up", "pull", "coat"]
    assert [entry.payload for entry in Entry.objects.order_by("id")[2:]] == [
        {"fault": "fish_eye"},
        {"reason": "came_off"},
    ]


@pytest.mark.parametrize(("typed", "meant"), [("startingstate", "starting_state"), ("pulled", "pull"), ("wax", None)])
def test_an_unknown_entry_is_told_what_there_is(book, typed, meant):
    [error] = taken(book(entry(entry=typed)))["errors"]
    assert error["message"].startswith(f"Did you mean {meant}? " if meant else f"“{typed}” is no entry")
    assert "One of: abandoned, accepted, " in error["message"]


def test_blank_rows_are_passed_over_and_counted(book):
    rows = [{"code": "A", "name": "Rack"}, {}, {"code": "  ", "name": " "}, {"code": "B", "name": None}]
    report = taken(book({"places": rows}))
    assert report["read"] == {"places": 2}
    assert [(error["row"], error["column"]) for error in report["errors"]] == [(5, "name")]


def test_words_and_notes_are_left_alone(book):
    sheets = {"Words": [{"anything": "at all"}], "notes": [{"x": 1}], "places": [{"code": "A", "name": "Rack"}]}
    assert taken(book(sheets)) == {"read": {"places": 1}, "written": {"places": 1}, "errors": [], "notes": []}


def test_another_sheet_is_an_error_in_row_1(book):
    assert cells_at_fault(book({"Rack list": [{"x": 1}], "places": [{"code": "A", "name": "R"}]})) == [
        ("Rack list", 1, "")
    ]


def test_columns_that_are_unknown_lacking_or_there_twice(book):
    sheets = {
        "places": [{"colour": "red", "code": "A", "name": "Rack", "shape": "flat"}],
        "tools": [{**MOLD, "place": "A"}],
    }
    assert cells_at_fault(book(sheets)) == [("places", 1, "colour"), ("places", 1, "shape")]


def test_a_sheet_that_lacks_its_code_makes_no_row_elsewhere_wrong(tmp_path):
    folder = write_csv(tmp_path / "b", {"tools": [{**MOLD, "place": "A"}]})
    (folder / "places.csv").write_text("name,name,height_mm,\nRack,Rack,1,2\n")
    assert cells_at_fault(folder) == [("places", 1, "name"), ("places", 1, "code"), ("places", 1, "D")]


def test_people_are_one_whatever_their_spelling(book):
    Person.objects.create_person("Mara", "hand", "long enough for a test")
    sheets = entry(by=" MARA", note="one")
    sheets["history"] += [{**sheets["history"][0], "by": name} for name in ("Ole", "ole ", "mara")]
    assert taken(book(sheets))["errors"] == []
    assert list(Entry.objects.order_by("id").values_list("by__name", flat=True)) == ["Mara", "Ole", "Ole", "Mara"]
    assert Person.objects.get(name="Ole").role == ""


def test_dates_of_tools_and_loans(book):
    sheets = entry(entry="lent", person="Yard", until="2026-09-01")
    sheets["tools"] = [{**MOLD, "built_on": date(2025, 12, 1) if not book.is_csv else "2025-12-01"}]
    assert taken(book(sheets))["errors"] == []
    assert Tool.objects.get().built_on == date(2025, 12, 1)
    assert Entry.objects.get().payload == {"person": "Yard", "until": "2026-09-01"}


def test_a_date_that_was_a_code_is_refused(tmp_path):
    path = write_xlsx(tmp_path / "b.xlsx", {"places": [{"code": date(2026, 3, 1), "name": "Rack 3-1"}]})
    assert cells_at_fault(path) == [("places", 2, "code")]


@pytest.mark.parametrize(("separator", "encoding"), [(",", "utf-8-sig"), (";", "utf-8"), (";", "utf-8-sig")])
def test_tables_with_and_without_a_mark_with_commas_and_semicolons(tmp_path, separator, encoding):
    number = "60,25" if separator == ";" else "60.25"
    rows = [{"number": "520", "name": "Bøtte; 2, blå", "cure_c": number, "note": 'she said "go"\nand went'}]
    assert taken(write_csv(tmp_path / "b", {"parts": rows}, separator, encoding))["errors"] == []
    part = PartRevision.objects.get()
    assert (part.name, part.cure_c, part.note) == ("Bøtte; 2, blå", Decimal("60.25"), 'she said "go"\nand went')


def test_a_code_that_is_there_is_an_error_unless_the_row_is_equal(book):
    places = [{"code": "A", "name": "Rack"}, {"code": "B", "name": "Shelf", "parent": "A", "height_mm": 900}]
    taken(book({"places": places}))
    again = [
        {"code": "a ", "name": " Rack"},
        {"code": "B", "name": "Shelf", "parent": "A"},
        {"code": "C", "name": "New"},
    ]
    report = taken(book({"places": again}))
    assert [(error["row"], error["column"]) for error in report["errors"]] == [(3, "code")]
    assert "height_mm" in report["errors"][0]["message"]
    report = taken(book({"places": [*places, {"code": "C", "name": "New"}]}))
    assert report["written"] == {"places": 1}
