"""A list as people write it: days in words, question marks, tallies, racks by other names, lines that are no tools."""

from datetime import date

import pytest

from tests.tooling.moving_in.uploads import agree, book, bring_in, match, run, take_up
from tooling.models import Entry, Place, Tool, WordMatch
from tooling.services.moving_in import loose
from tooling.services.moving_in.called import column_called, with_name
from tooling.services.moving_in.matching import remember_words
from tooling.services.places import NewPlace, put_up
from tooling.services.starters import add_starter

pytestmark = pytest.mark.django_db

HEADER = ["Tool no.", "Name", "Kind", "Shelf", "Last waxed", "Pulls since", "Total pulls", "Weight", "Notes"]
MOLD = ["M-1", "One", "mold", None, "31 Oct 2025", "IIII", "~60", "ca 40", "old"]


def listed(lead, *rows, **said):
    moving = take_up(lead, ("shop.xlsx", book(Tools=[["Our list"], [None], HEADER, *rows])), **said)
    match("tools", "shelf", "tools", "place")
    agree(moving)
    return run(moving, lead)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("31 Oct 2026", date(2026, 10, 31)),
        ("Sep 12, 2026", date(2026, 9, 12)),
        ("3rd of June 26", date(2026, 6, 3)),
        ("Sept. 1st 2026", date(2026, 9, 1)),
        ("before summer", None),
        ("12 Xyz 2026", None),
    ],
)
def test_a_day_in_words(text, day):
    assert loose.day_in_words(text) == day


def test_a_day_that_is_none():
    with pytest.raises(ValueError, match="day"):
        loose.day_in_words("31 June 2026")
    assert loose.is_month("October 2026")
    assert not loose.is_month("summer 2026")


def test_what_is_written_by_hand_is_read_and_kept_legible(lead):
    moving = listed(lead, MOLD)
    assert moving.report["wrong_rows"] == 0
    read = {one["text"]: one["means"] for one in moving.report["read_as"]}
    assert read == {"31 Oct 2025": "2025-10-31", "IIII": "4", "~60": "60", "ca 40": "40"}
    bring_in(moving, lead)
    start, tool = Entry.objects.get(), Tool.objects.get()
    assert start.at.date() == date(2025, 10, 31)
    assert (start.payload["pulls_since_coat"], start.payload["total_pulls"], start.payload["prepared"]) == (
        4,
        60,
        "yes",
    )
    assert (tool.mass_kg, tool.note) == (40, "old; Total pulls: ~60; Weight: ca 40")


def test_what_nobody_knows_is_no_nought(lead):
    month = ["M-2", "Two", "mold", None, "October 2025", 2, "?", None, None]
    question = ["M-3", "Three", "mold", None, date(2025, 10, 3), "?", 12, None, None]
    bring_in(listed(lead, month, question), lead)
    one, other = Entry.objects.order_by("pk")
    assert one.payload["prepared"] == other.payload["prepared"] == "unknown"
    assert [tool.note for tool in Tool.objects.order_by("code")] == ["Last waxed: October 2025", ""]
    assert sum(listed(lead, month, question).report["new"].values()) == 0


def test_what_cannot_be_read_counts_as_not_known_for_all_rows_at_once(lead):
    rows = [[f"M-{n}", "Mold", "mold", None, "before summer", 1, "many", None, None] for n in (1, 2)]
    moving = listed(lead, *rows)
    words = [(one["column"], one["word"], one["count"], one["is_value"]) for one in moving.report["words"]]
    assert words == [("last_coat", "before summer", 2, True), ("total_pulls", "many", 2, True)]
    assert (moving.report["wrong_rows"], moving.report["hand_rows"], moving.report["groups"]) == (2, 0, [])
    remember_words({("tools", "last_coat", "before summer"): "?", ("tools", "total_pulls", "many"): "?"})
    bring_in(run(moving, lead), lead)
    assert Tool.objects.get(code="M-1").note == "Last waxed: before summer; Total pulls: many"
    assert {start.payload["prepared"] for start in Entry.objects.all()} == {"unknown"}


def test_racks_that_were_put_up_first_are_not_put_up_again(lead):
    put_up([NewPlace("RACK-A", "Rack A"), NewPlace("A-1", "Rack A, shelf 1", "RACK-A"), NewPlace("A-2", "x", "RACK-A")])
    shelves = ["Rack A / 1", "A2", "Rack A shelf 3", "under the bench"]
    rows = [[f"M-{n}", "Mold", "mold", shelf, *[None] * 5] for n, shelf in enumerate(shelves)]
    moving = listed(lead, *rows, make_places=True)
    asked = {one["name"]: one["likely"] for one in moving.report["places"]}
    assert asked == {"Rack A / 1": "A-1", "A2": "A-2"}
    said = {"Rack A / 1": "A-1", "A2": "A-2", "Rack A shelf 3": "+RACK-A"}
    remember_words({("tools", "place", name): ours for name, ours in said.items()})
    bring_in(run(moving, lead), lead)
    assert list(Tool.objects.order_by("code").values_list("place__code", flat=True)) == [
        "A-1", "A-2", "RACK-A-SHELF-3", "UNDER-THE-BENCH"
    ]  # fmt: skip
    assert Place.objects.get(code="RACK-A-SHELF-3").parent.code == "RACK-A"
    # remembered by its code: a name may be put right later
    assert WordMatch.objects.get(theirs="under_the_bench").ours == "UNDER-THE-BENCH"


def test_lines_that_are_no_tools_are_listed_and_left_out_when_somebody_says_so(lead):
    divider, total = ["--- shed ---", *[None] * 8], ["TOTAL", *[None] * 5, 240, None, None]
    moving = listed(lead, MOLD, divider, total)
    assert [(one["row"], one["text"]) for one in moving.report["lines"]] == [(5, "--- shed ---"), (6, "TOTAL")]
    assert moving.report["wrong_rows"] == 2
    moving.given = {"leave_lines": True}
    moving.save()
    assert run(moving, lead).report["wrong_rows"] == 0


def test_wrong_rows_are_left_out_and_the_others_come_in(lead):
    wrong = ["M-9", "Nine", "mold", "nowhere", None, -1, None, None, None]
    moving = listed(lead, MOLD, wrong, leave_wrong=True)
    assert (moving.report["wrong_rows"], moving.report["out_rows"], moving.report["rows"]) == (0, 1, 1)
    moving = bring_in(moving, lead)
    assert moving.job.state == "done"
    assert [tool.code for tool in Tool.objects.all()] == ["M-1"]
    assert {tuple(one["rows"]) for one in moving.report["out_groups"] + moving.report["groups"]} <= {(5,)}


def test_a_row_is_named_as_it_stands_in_the_file(lead):
    moving = listed(lead, MOLD, ["M-1", "Again", "mold", *[None] * 6])
    assert "M-1 stands in row 4 already." in str(moving.report["groups"])


def test_without_a_name_it_is_called_by_its_kind_and_a_mask_has_no_wax(lead):
    bring_in(listed(lead, ["T-1", None, "trim mask", None, "31 Oct 2025", None, 3, None, None]), lead)
    tool = Tool.objects.get()
    assert (tool.name, tool.note) == ("Trim mask", "Last waxed: 2025-10-31; Total pulls: 3")
    assert not Entry.objects.exists()


def test_a_try_shows_each_tool_as_it_would_stand_and_writes_none(lead):
    add_starter("WAX")
    moving = listed(lead, MOLD, ["P-1", "Plug", "plug", *[None] * 6])
    assert [(one["code"], one["place"], one["recipe"]) for one in moving.report["tools"]] == [
        ("M-1", "no place", ""), ("P-1", "no place", "")
    ]  # fmt: skip
    assert moving.report["no_recipe"] == {"mold": 1, "plug": 1}
    moving.given = {"recipe_mold": "WAX"}
    moving.save()
    moving = run(moving, lead)
    assert moving.report["no_recipe"] == {"plug": 1}
    assert moving.report["tools"][0]["recipe"] == "WAX"
    assert moving.report["tools"][0]["state"]
    assert not Tool.objects.exists()
    assert not Entry.objects.exists()
    bring_in(moving, lead)
    assert Tool.objects.get(code="M-1").release_system.code == "WAX"
    # and the same list once more reads as there already, with another recipe said too
    again = listed(lead, MOLD, recipe_mold="OTHER")
    assert (again.report["wrong_rows"], sum(again.report["new"].values())) == (0, 0)


@pytest.mark.parametrize(
    ("name", "words"),
    [("mass_kg in lb", "mass, in lb"), ("width_mm in in", "width, in inches"), ("release_system", "release recipe")],
)
def test_a_column_is_called_in_plain_words(name, words):
    assert column_called(name) == words
    assert with_name(words, name) == f"{words} ({name.partition(' in ')[0]})"
