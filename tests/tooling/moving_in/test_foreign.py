"""A shop's own list of tools goes in: its columns, words, codes, places, and what it says of the past."""

from datetime import date

import pytest

from tests.tooling.moving_in.uploads import agree, book, bring_in, match, matched, run, take_up
from tooling.models import Entry, Person, Place, Tool
from tooling.services.jobs import Cancelled, Progress
from tooling.services.moving_in.matching import remember_words
from tooling.services.recipes import add_system

pytestmark = pytest.mark.django_db

HEADER = ["Mold no.", "What it is", "Type", "Lives", "Weight (lb)", "Last waxed", "Pulls since", "Total pulls"]
HULL = ["HULL 7/B", "Hull mold", "Form", "Rack B2", 84, date(2026, 3, 2), 2, 41]
DECK = ["DECK-2", "Deck mold", "mold", "rack b2", None, None, None, 12]
SETTLED = {"proposed_codes": True, "make_places": True}


def taken_up(lead, *rows, **said):
    moving = take_up(lead, ("list.xlsx", book(Molds=[["Our molds, spring"], HEADER, *rows])), **said)
    agree(moving)
    return moving


def messages(moving):
    return [message for one in moving.report["errors"] for message in one["messages"]]


def test_its_headings_are_guessed(lead):
    (one,) = matched(take_up(lead, ("list.xlsx", book(Molds=[["Our molds"], HEADER, HULL]))))
    assert (one.sheet, one.look.header_row, one.is_sure, one.lacking) == ("tools", 2, False, [])
    assert list(one.columns.values()) == [
        "code", "name", "kind", "place", "mass_kg in lb", "last_coat", "pulls_since_coat", "total_pulls",
    ]  # fmt: skip


def test_a_try_says_all_that_is_wrong_and_writes_nothing(lead):
    moving = run(taken_up(lead, HULL, DECK), lead)
    assert moving.job.words == "2 rows of 2 are wrong."
    assert [one["row"] for one in moving.report["errors"]] == [3, 4]
    assert [(one["column"], one["word"], one["count"]) for one in moving.report["words"]] == [("kind", "Form", 1)]
    assert moving.report["codes"] == [{"old": "HULL 7/B", "new": "HULL-7-B"}]
    assert moving.report["places"] == [{"name": "Rack B2", "code": "RACK-B2", "likely": "", "count": 2}]
    assert moving.report["settles"]
    assert "Try HULL-7-B." in messages(moving)[0]
    assert not Tool.objects.exists()


def test_settled_it_comes_in_and_again_is_harmless(lead):
    remember_words({("tools", "kind", "Form"): "mold"})
    moving = run(taken_up(lead, HULL, DECK, **SETTLED), lead)
    assert moving.job.words == "All 2 rows are right. Nothing was written yet."
    assert moving.report["new"] == {"places": 1, "tools": 2, "history": 2}
    assert not Tool.objects.exists()
    moving = bring_in(moving, lead)
    assert moving.brought_in_at is not None
    hull = Tool.objects.get(code="HULL-7-B")
    assert [alias.code for alias in hull.aliases.all()] == ["HULL 7/B"]
    assert (hull.kind, hull.name, str(hull.mass_kg)) == ("mold", "Hull mold", "38.101759")  # 84 x 0.45359237
    assert {tool.place.code for tool in Tool.objects.all()} == {"RACK-B2"}
    assert Place.objects.get().name == "Rack B2"

    again = run(taken_up(lead, HULL, DECK, **SETTLED), lead)
    assert again.report["wrong_rows"] == 0
    assert sum(again.report["new"].values()) == 0


def test_what_it_says_of_the_past_is_a_starting_state(lead):
    remember_words({("tools", "kind", "Form"): "mold"})
    bring_in(run(taken_up(lead, HULL, DECK, **SETTLED), lead), lead)
    hull, deck = (Entry.objects.get(tool__code=code) for code in ("HULL-7-B", "DECK-2"))
    assert {hull.kind, deck.kind} == {"starting_state"}
    assert hull.at.date() == date(2026, 3, 2)
    assert hull.payload == {"prepared": "yes", "pulls_since_coat": 2, "total_pulls": 41, "note": "from list.xlsx"}
    assert (hull.recorded_by, hull.by) == (lead, None)
    # nobody remembers the day of the coat: it is unknown, not today's
    assert deck.payload == {"prepared": "unknown", "total_pulls": 12, "note": "from list.xlsx"}


def test_another_state_than_the_one_that_was_written_is_refused(lead):
    bring_in(run(taken_up(lead, DECK, make_places=True), lead), lead)
    other = run(taken_up(lead, [*DECK[:-1], 13], make_places=True), lead)
    assert "has a history already" in messages(other)[0]
    assert Entry.objects.count() == 1


def test_all_of_a_sheet_are_plugs_and_the_code_stands_for_the_name(lead):
    content = book(Plugs=[["Tag", "Remarks"], ["P 1", "oak"]], Price_list=[["nothing"]])
    moving = take_up(lead, ("list.xlsx", content), **SETTLED)
    one, other = matched(moving)
    assert (one.sheet, one.kind, one.lacking) == ("tools", "plug", [])
    assert other.sheet in ("", "tools")
    match("price_list", "", "", "")
    match("price_list", "nothing", "", "")
    match("plugs", "tag", "tools", "code")
    match("plugs", "remarks", "tools", "note")
    from tooling.models import ColumnMatch

    ColumnMatch.objects.create(their_sheet="plugs", sheet="tools", kind="plug")
    bring_in(run(moving, lead), lead)
    tool = Tool.objects.get()
    assert (tool.code, tool.kind, tool.name, tool.note) == ("P-1", "plug", "P 1", "oak")


def test_two_sheets_become_one_and_errors_find_their_way_back(lead):
    content = book(
        Molds=[["code", "name"], ["M-1", "Mold"], ["M-1", "Once more"]],
        Plugs=[["name", "code"], ["Plug", "P-1"], ["", "M/1"]],
    )
    moving = take_up(lead, ("list.xlsx", content))
    agree(moving)
    errors = run(moving, lead).report["errors"]
    assert [(one["sheet"], one["row"], one["column"], one["cell"]) for one in errors] == [
        ("Molds", 3, "code", "M-1"), ("Plugs", 3, "code", "M/1"),
    ]  # fmt: skip


def test_recipes_are_called_otherwise_there(lead):
    add_system(code="PASTE", columns={"name": "Paste", "family": "paste_wax"})
    content = book(Molds=[["code", "name", "Wax"], ["M-1", "One", "carnauba"], ["M-2", "Two", "paste"]])
    moving = take_up(lead, ("list.xlsx", content))
    agree(moving)
    moving = run(moving, lead)
    assert [one["word"] for one in moving.report["words"]] == ["carnauba"]
    remember_words({("tools", "release_system", "Carnauba"): "PASTE"})
    bring_in(run(moving, lead), lead)
    assert {tool.release_system.code for tool in Tool.objects.all()} == {"PASTE"}


def test_long_names_of_places_get_codes_of_their_own(lead):
    rows = [[f"M-{n}", "Mold", f"Container behind the shed {n}"] for n in (1, 2, 3)]
    moving = take_up(lead, ("l.xlsx", book(Molds=[["code", "name", "place"], *rows])), make_places=True)
    agree(moving)
    bring_in(run(moving, lead), lead)
    assert sorted(Place.objects.values_list("code", flat=True)) == [
        "CONTAINER-BEHI-2", "CONTAINER-BEHI-3", "CONTAINER-BEHIND"
    ]  # fmt: skip
    assert len({tool.place_id for tool in Tool.objects.all()}) == 3


def test_a_deed_in_between_stops_it(lead):
    moving = run(taken_up(lead, DECK, make_places=True), lead)
    Tool.objects.create(code="DECK-2", kind="mold", name="Somebody was quicker")
    moving = bring_in(moving, lead)
    assert moving.job.state == "failed"
    assert moving.brought_in_at is None
    assert "is in the shop already" in messages(moving)[0]
    assert not Place.objects.exists()


def test_nobody_is_made_by_a_try(lead):
    people = Person.objects.count()
    content = book(history=[["tool", "at", "entry", "by"], ["M-1", "2026-03-01", "note", "Somebody new"]],
                   tools=[["code", "kind", "name"], ["M-1", "mold", "One"]])  # fmt: skip
    moving = run(take_up(lead, ("l.xlsx", content)), lead)
    assert moving.report["wrong_rows"] == 0
    assert Person.objects.count() == people


def test_cancelled_at_the_last_moment_nothing_is_written(lead, monkeypatch):
    moving = run(taken_up(lead, DECK, make_places=True), lead)
    monkeypatch.setattr(Progress, "_may_go_on", lambda self: self._told.words == "Reading" and cancelled())
    moving = bring_in(moving, lead)
    assert (moving.job.state, moving.job.words) == ("cancelled", "Cancelled. Nothing was written.")
    assert moving.brought_in_at is None
    assert moving.report["wrong_rows"] == 0
    assert not Tool.objects.exists()


def cancelled():
    raise Cancelled
