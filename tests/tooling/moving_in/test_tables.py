"""Tables as spreadsheets of several countries save them, and headings as people write them."""

from datetime import date

import pytest

from tests.tooling.moving_in.uploads import agree, book, bring_in, match, matched, run, take_up
from tooling.models import Tool
from tooling.services.moving_in.matching import remember_words
from tooling.services.moving_in.ours import NOTHING
from tooling.services.moving_in.targets import likely, likely_sheet

pytestmark = pytest.mark.django_db

PLAIN = 'code,kind,name,mass_kg,note\nM-1,mold,Bug über Kiel,12.5,"one, two"\n'


@pytest.mark.parametrize(
    "content",
    [
        PLAIN.encode(),
        b"\xef\xbb\xbf" + PLAIN.encode(),
        PLAIN.encode("cp1252"),
        PLAIN.encode("utf-16"),
        PLAIN.replace("\n", "\r\n").encode(),
        'code;kind;name;mass_kg;note\nM-1;mold;Bug über Kiel;12,5;"one, two"\n'.encode("cp1252"),
        'sep=;\ncode;kind;name;mass_kg;note\nM-1;mold;Bug über Kiel;12,5;"one, two"\n'.encode(),
        "code\tkind\tname\tmass_kg\tnote\nM-1\tmold\tBug über Kiel\t12,5\tone, two\n".encode("utf-16"),
    ],
)
def test_letters_and_separators(lead, content):
    moving = take_up(lead, ("tools.csv", content))
    moving = run(moving, lead)
    assert moving.report["wrong_rows"] == 0, moving.report["errors"]
    bring_in(moving, lead)
    tool = Tool.objects.get()
    assert (tool.name, str(tool.mass_kg), tool.note) == ("Bug über Kiel", "12.5", "one, two")


def test_two_rows_of_headings_and_a_title_above(lead):
    rows = [["Our tools"], [], ["Tool", "", "Wax", ""], ["No.", "Name", "Last waxed", "Pulls since"],
            ["M-1", "One", date(2026, 3, 1), 2]]  # fmt: skip
    (one,) = matched(take_up(lead, ("x.xlsx", book(Molds=rows))))
    assert one.look.header_row == 4
    assert [column.title for column in one.look.columns] == ["No.", "Name", "Last waxed", "Pulls since"]
    assert (one.kind, one.columns["last_waxed"]) == ("mold", "last_coat")


def test_headings_that_stand_there_twice_or_not_at_all(lead):
    rows = [["code", "name", "note", "note", None], ["M-1", "One", "a", "b", "c"]]
    moving = take_up(lead, ("x.xlsx", book(Molds=rows)))
    (one,) = matched(moving)
    assert [column.key for column in one.look.columns] == ["code", "name", "note", "note (2)", "column E"]
    assert one.columns["note (2)"] == ""
    agree(moving)
    match("molds", "column E", "tools", "owner")
    bring_in(run(moving, lead), lead)
    assert (Tool.objects.get().note, Tool.objects.get().owner) == ("a", "c")


def test_merged_cells_say_what_their_first_one_says(lead):
    from io import BytesIO

    import openpyxl

    made = openpyxl.load_workbook(BytesIO(book(Molds=[["code", "name"], ["M-1", "One"], ["M-2", "Two"]])))
    made["Molds"].merge_cells("A2:A3")
    held = BytesIO()
    made.save(held)
    moving = take_up(lead, ("x.xlsx", held.getvalue()))
    agree(moving)
    (one,) = run(moving, lead).report["errors"]
    assert (one["row"], one["messages"]) == (3, ["Fill in the code."])


@pytest.mark.parametrize(
    ("typed", "said", "day"),
    [
        ("31.03.2026", "", date(2026, 3, 31)),
        ("3/31/2026", "", date(2026, 3, 31)),
        ("31/3/26", "", date(2026, 3, 31)),
        ("3/4/2026", "day", date(2026, 4, 3)),
        ("3/4/2026", "month", date(2026, 3, 4)),
        ("2026-03-31", "", date(2026, 3, 31)),
    ],
)
def test_days_as_people_write_them(lead, typed, said, day):
    moving = take_up(lead, ("tools.csv", f"code;kind;name;built_on\nM-1;mold;One;{typed}\n"), days=said)
    bring_in(run(moving, lead), lead)
    assert Tool.objects.get().built_on == day


@pytest.mark.parametrize(("typed", "said"), [("3/4/2026", "Say how days are written"), ("31.04.2026", "is no day")])
def test_a_day_that_is_two_or_none_is_asked_back(lead, typed, said):
    moving = run(take_up(lead, ("tools.csv", f"code;kind;name;built_on\nM-1;mold;One;{typed}\n")), lead)
    assert said in moving.report["errors"][0]["messages"][0]
    assert moving.report["days"] == (typed if said.startswith("Say") else "")


@pytest.mark.parametrize(
    ("heading", "cell", "stored"),
    [
        ("Weight (lb)", "10", "4.535924"),  # 10 x 0.45359237, to a millionth
        ("Weight", "10 lb", "4.535924"),
        ("mass_kg", "10", "10"),
    ],
)
def test_masses_in_pounds(lead, heading, cell, stored):
    moving = take_up(lead, ("molds.csv", f"code;kind;name;{heading}\nM-1;mold;One;{cell}\n"))
    agree(moving)
    bring_in(run(moving, lead), lead)
    assert str(Tool.objects.get().mass_kg) == stored


def test_headings_that_are_guessed():
    titles = [
        "Tool #",
        "Desc",
        "Kind",
        "Loc",
        "Last wax date",
        "# pulls since wax",
        "Lifetime pulls",
        "L (mm)",
        "Photo",
    ]
    assert likely("tools", [(title, title) for title in titles]) == {
        "Tool #": "code", "Desc": "name", "Kind": "kind", "Loc": "place", "Last wax date": "last_coat",
        "# pulls since wax": "pulls_since_coat", "Lifetime pulls": "total_pulls", "L (mm)": "length_mm",
    }  # fmt: skip
    titles = ["Date", "Mold", "What", "Who", "How was it", "Serial"]
    assert likely("history", [(title, title) for title in titles])["Mold"] == "tool"
    assert likely("places", [(title, title) for title in ["Rack", "Description", "Max kg"]]) == {
        "Rack": "code", "Description": "name", "Max kg": "max_load_kg",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("title", "keys", "ours"),
    [("Tooling list", ["id", "name"], "tools"), ("Racks", [], "places"), ("Log", [], "history"), ("Parts", [], "parts"),
     ("Sheet1", ["id", "what it is", "lives"], "tools"), ("Prices", ["resin", "price"], "")],
)  # fmt: skip
def test_sheets_that_are_guessed(title, keys, ours):
    assert likely_sheet(title, keys) == ours


def test_a_sheet_as_wide_as_a_calendar_is_left_alone(lead):
    calendar = [["name", *(f"day {n}" for n in range(365))], ["Ines", *range(365)]]
    moving = take_up(lead, ("x.xlsx", book(Hours=calendar, tools=[["code", "kind", "name"], ["M-1", "mold", "One"]])))
    hours, tools = matched(moving)
    assert (hours.sheet, hours.look.is_wide, tools.is_settled) == ("", True, True)
    assert run(moving, lead).report["left_out"] == ["Hours"]


def test_a_word_may_mean_nothing(lead):
    remember_words({("tools", "hand", "either"): NOTHING})
    moving = take_up(lead, ("tools.csv", "code;kind;name;hand\nM-1;mold;One;either\n"))
    bring_in(run(moving, lead), lead)
    assert Tool.objects.get().hand == ""
