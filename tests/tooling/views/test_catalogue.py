"""A tool of the catalogue: brought in, and changed by a lead."""

import pytest

from tests.tooling.views.works import ago, do, mold, recipe
from tooling.models import Entry, Kind, Place, Tool, ToolAlias, ToolChange
from tooling.services.recheck import differences
from tooling.services.tools import rules

pytestmark = pytest.mark.django_db
NEW, CHANGE = "/tools/new/all/", "/tools/DECK/change/"


@pytest.fixture
def typed(sign_in, morning):
    """A form as it stands on the screen of a lead."""

    def values(address, **units):
        form = sign_in("lead", **units).get(address).context["form"]
        stands = {name: form[name].value() for name in form.fields}
        return {name: value for name, value in stands.items() if value not in (None, False)}

    return values


def test_strangers_readers_and_hands_change_no_tool(client, sign_in, morning):
    mold("DECK", morning)
    assert client.get(CHANGE).url == f"/sign-in/?next={CHANGE}"
    for role in ("reader", "hand", "station"):
        assert CHANGE not in sign_in(role).get("/tools/DECK/").text
        for address in (NEW, CHANGE):
            assert client.get(address).status_code == client.post(address, {"name": "x"}).status_code == 403
    assert Tool.objects.get().name == "Tool DECK"


def test_a_tool_is_brought_in_and_twice_is_harmless(client, typed, morning, lead):
    place = Place.objects.create(code="B-1", name="Rack B, shelf 1")
    filled = {
        **typed(NEW), "code": "deck-3", "name": "Kayak deck", "kind": "mold", "mass_kg": "38,5", "place": place.pk,
        "release_system": morning.code, "built_on": "2026-03-01",
    }  # fmt: skip
    assert client.post(NEW, filled).url == "/tools/DECK-3/"
    tool = Tool.objects.get(code="DECK-3")
    assert (str(tool.mass_kg), tool.summary.home, tool.as_typed) == ("38.5", place, {})
    assert tool.changes.get().who == lead
    assert "<b>Brought in</b>" in client.get("/tools/DECK-3/").text
    assert "is or was the code of the tool DECK-3" in str(client.post(NEW, filled).context["form"].errors["code"])
    assert Tool.objects.count() == 1


def test_what_is_changed_is_kept_with_what_stood_there(client, typed, morning, lead):
    mold("DECK", morning, name="Kayak deck")
    assert (
        client.post(CHANGE, {**typed(CHANGE), "owner": "Sluicegate Rowing Club", "length_mm": "5200"}).url
        == "/tools/DECK/"
    )
    tool = Tool.objects.get()
    assert (tool.owner, tool.length_mm) == ("Sluicegate Rowing Club", 5200)
    kept = {one.field: (one.who, one.before, one.after) for one in tool.changes.all()}
    assert kept == {"owner": (lead, "", "Sluicegate Rowing Club"), "length_mm": (lead, "", "5200")}
    text = client.get("/tools/DECK/").text
    assert "<ins>Sluicegate Rowing Club</ins>" in text
    assert "<ins>5200 mm</ins>" in text


def test_the_same_form_again_and_one_without_a_change_write_nothing(client, typed, morning):
    mold("DECK", morning)
    stood = typed(CHANGE)
    client.post(CHANGE, {**stood, "owner": "Sluicegate"})
    assert client.post(CHANGE, {**stood, "owner": "Sluicegate"}).url == "/tools/DECK/"
    assert ToolChange.objects.count() == 1


def test_another_code_keeps_the_old_one(client, typed, morning):
    mold("DECK", morning)
    assert client.post(CHANGE, {**typed(CHANGE), "code": "deck-9"}).url == "/tools/DECK-9/"
    assert client.get("/t/DECK/").url == "/tools/DECK-9/"
    assert client.get("/tools/", {"q": "DECK-9"}).status_code in (200, 302)
    back = "/tools/DECK-9/change/"
    assert client.post(back, {**typed(back), "code": "DECK"}).url == "/tools/DECK/"
    assert [alias.code for alias in ToolAlias.objects.all()] == ["DECK-9"]


def test_another_recipe_and_home_go_through_deeds_once_there_is_a_history(client, typed, morning, lead):
    other, place = recipe("SEMI"), Place.objects.create(code="B-1", name="Rack B, shelf 1")
    tool = mold("DECK", morning)
    reply = client.post(CHANGE, {**typed(CHANGE), "release_system": other.pk, "place": place.pk})
    assert reply.url == "/tools/DECK/"
    tool.refresh_from_db()
    assert (tool.release_system, tool.place) == (morning, None)
    assert tool.summary.home == place
    deeds = Entry.objects.filter(kind__in=("release_system", "moved")).order_by("id")
    assert [(entry.kind, entry.by) for entry in deeds] == [("release_system", lead), ("moved", lead)]
    assert tool.summary.state["system"] == "SEMI"
    assert not ToolChange.objects.exists()
    form = client.get(CHANGE).context["form"]
    assert (form["place"].value(), form["release_system"].value()) == (place.pk, other.pk)


def test_another_home_is_no_look_at_the_tool(client, typed, morning):
    old, new = (Place.objects.create(code=code, name=code) for code in ("B-1", "C-1"))
    tool = mold("DECK", morning)
    put = do("move", tool, place=old, home=True)
    for place in (new, None):
        client.post(CHANGE, {**typed(CHANGE), "place": place.pk if place else ""})
        summary = Tool.objects.get().summary
        assert (summary.home, summary.seen_place, summary.seen_at) == (place, old, put.at)
    assert not list(differences(rules()))
    page = client.get("/tools/DECK/").text
    assert "Home from then on: C-1" in page
    assert "Has no home from then on" in page


def test_a_tool_that_nobody_saw_is_not_seen_by_naming_its_home(client, typed, morning):
    place = Place.objects.create(code="B-1", name="Rack B, shelf 1")
    mold("DECK", morning)
    client.post(CHANGE, {**typed(CHANGE), "place": place.pk})
    summary = Tool.objects.get().summary
    assert (summary.home, summary.seen_place, summary.seen_at) == (place, None, None)
    assert "nothing written down" in client.get("/tools/DECK/").text


def test_before_a_history_they_are_how_it_begins(client, typed, morning):
    place = Place.objects.create(code="B-1", name="Rack B, shelf 1")
    tool = mold("DECK", None, pulls=None)
    changed = {**typed(CHANGE), "release_system": morning.pk, "place": place.pk, "kind": "plug", "in_making": "on"}
    client.post(CHANGE, changed)
    tool = Tool.objects.select_related("summary").get()
    assert (tool.release_system, tool.place, tool.kind) == (morning, place, Kind.PLUG)
    assert (tool.summary.home, tool.summary.making, tool.summary.state["system"]) == (place, True, "WAX")
    assert not Entry.objects.exists()


def test_only_what_a_change_does_is_said_at_its_field(client, sign_in, morning):
    mold("DECK", morning, pulls=None)
    sign_in("lead")
    old_code, from_now_on = "Another code keeps the old one", "This writes down that"
    new, bare = client.get(NEW).text, client.get(CHANGE).text
    assert (old_code in new, from_now_on in new) == (False, False)
    assert (old_code in bare, from_now_on in bare) == (True, False)
    do("log_coat", Tool.objects.get(), at=ago(hours=1))
    assert client.get(CHANGE).text.count(from_now_on) == 2


def test_a_changed_tool_is_found_by_its_new_words(client, typed, morning):
    place = Place.objects.create(code="B-1", name="Cantilever")
    mold("DECK", None, pulls=None)
    client.post(CHANGE, {**typed(CHANGE), "owner": "Sluicegate", "place": place.pk, "code": "HULL-7"})
    text = Tool.objects.get().search_text.text
    assert {word for word in ("sluicegate", "cantilever", "hull-7", "deck") if word not in text} == set()


def test_kind_and_making_are_settled_by_a_history(client, typed, morning):
    mold("DECK", morning)
    stood = typed(CHANGE)
    assert not stood.keys() & {"kind", "in_making"}
    client.post(CHANGE, {**stood, "kind": "plug", "in_making": "on"})
    assert Tool.objects.get().kind == Kind.MOLD


@pytest.mark.parametrize(
    ("column", "value", "wrong"),
    [
        ("code", "ä b", "A code is 1 to 16 of the letters"),
        ("code", "HULL", "is or was the code of the tool HULL"),
        ("code", "OLD", "is or was the code of the tool HULL"),
        ("name", "", "Fill this in."),
        ("name", "x" * 201, "At most 200"),
        ("name", "\x00", "A sign in it cannot be kept."),
        ("mass_kg", "heavy", "“heavy” is no number. Write it as 12.5."),
        ("mass_kg", "-1", "A number, 0 or more."),
        ("mass_kg", "1,250", "“1,250” can be read in two ways: write 1.25 or 1250."),
        ("length_mm", "5.350", "“5.350” can be read in two ways: write 5.35 or 5350."),
        ("mass_kg", "9999999999", "more than the program can hold"),
        ("length_mm", "5 kg", "is something else"),
        ("made_from", "NONE", "There is no tool NONE."),
        ("made_from", "DECK", "cannot be made from itself"),
        ("made_from", "CHILD", "nor from one that was made from it"),
        ("in_place_of", "NONE", "There is no tool NONE."),
        ("in_place_of", "DECK", "A tool cannot take its own place"),
        ("in_place_of", "AFTER", "nor that of one that took its place"),
        ("built_on", "soon", "Write a day that is in the calendar."),
        ("not_before", "9999-12-31", "Check the year of 9999-12-31: it goes from 1950 to 2199."),
        ("inspect_every_pulls", "0", "At least 1, please."),
        ("inspect_every_pulls", "9" * 30, ""),
        ("place", "999", "Choose one of those offered."),
        ("release_system", "", "keeps a recipe"),
        ("hand", "X", "Choose one of those offered."),
        ("note", "x" * 4001, "At most 4000"),
    ],
)
def test_bad_input_is_said_at_its_field_and_changes_nothing(client, typed, morning, column, value, wrong):
    deck = mold("DECK", morning)
    ToolAlias.objects.create(code="OLD", tool=mold("HULL", morning))
    mold("CHILD", morning, made_from=deck)
    mold("AFTER", morning, in_place_of=deck)
    reply = client.post(CHANGE, {**typed(CHANGE), "owner": "Sluicegate", column: value})
    assert reply.status_code == 200
    assert wrong in " ".join(reply.context["form"].errors[column])
    assert "Sluicegate" in reply.text
    deck.refresh_from_db()
    assert (deck.code, deck.owner, ToolChange.objects.count()) == ("DECK", "", 0)


def test_a_length_in_inches_is_stored_exactly_and_comes_back_as_typed(client, typed, morning):
    mold("DECK", morning, width_mm=100)
    measures = {"length_mm": "204 3/8", "mass_kg": "84.5", "max_service_c": "250"}
    client.post(CHANGE, {**typed(CHANGE, units="us"), **measures})
    tool = Tool.objects.get()
    assert (str(tool.length_mm), str(tool.mass_kg), tool.width_mm) == ("5191.125", "38.328555", 100)
    text = client.get("/tools/DECK/").text
    for words in ("204 3/8 in", "84.5 lb", "250 °F", "≈ 3 15/16 in"):
        assert f'<span class="nb">{words}</span>' in text
    again = client.get(CHANGE).context["form"]
    assert [again[name].value() for name in ("length_mm", "mass_kg", "max_service_c")] == ["204 3/8", "84.5", "250"]


def test_what_is_shown_rounded_stays_exact_where_it_is_left(client, typed, morning):
    mold("DECK", morning, length_mm=5350, mass_kg=38)
    stood = typed(CHANGE, units="us")
    assert (stood["length_mm"], stood["mass_kg"]) == ("210 5/8", "84")
    assert "About. Written down as 5350 mm, which stays if you leave this." in client.get(CHANGE).text
    client.post(CHANGE, {**stood, "owner": "Sluicegate"})
    tool = Tool.objects.get()
    assert (str(tool.length_mm), str(tool.mass_kg), tool.owner, tool.as_typed) == ("5350", "38", "Sluicegate", {})
    assert typed(CHANGE, units="metric")["length_mm"] == "5350"


def test_an_unknown_tool_is_not_there(typed, sign_in):
    client = sign_in("lead")
    for code in ("NONE", "%00", "x" * 300):
        assert client.get(f"/tools/{code}/change/").status_code == 404


def test_a_lead_sees_changes_of_long_ago_counted(client, sign_in, morning, lead):
    tool = mold("DECK", morning)
    for number in range(25):
        ToolChange.objects.create(tool=tool, at=ago(days=number), who=lead, field="note", after=f"n{number}.")
    text = sign_in("reader").get("/tools/DECK/").text
    assert "n19." in text
    assert "n20." not in text
    assert "Older changes are kept as well." in text
    do("take_note", tool, note="still works")


def test_an_older_loop_of_origins_stands_in_no_other_changes_way(client, typed, morning):
    deck, plug = mold("DECK", morning), mold("PLUG", morning, kind=Kind.PLUG)
    Tool.objects.filter(pk=deck.pk).update(made_from=plug)
    Tool.objects.filter(pk=plug.pk).update(made_from=deck)
    assert client.post(CHANGE, {**typed(CHANGE), "note": "still writes"}).url == "/tools/DECK/"
    assert client.post(CHANGE, {**typed(CHANGE), "made_from": ""}).url == "/tools/DECK/"
    deck.refresh_from_db()
    assert (deck.note, deck.made_from) == ("still writes", None)


def test_whose_place_a_tool_took_is_kept_and_said(client, typed, morning):
    mold("DECK", morning, in_place_of=mold("OLD-1", morning))
    mold("OLD-2", morning)
    client.post(CHANGE, {**typed(CHANGE), "in_place_of": "old-2"})
    assert Tool.objects.get(code="DECK").in_place_of.code == "OLD-2"
    kept = ToolChange.objects.get()
    assert (kept.field, kept.before, kept.after) == ("in_place_of", "OLD-1", "OLD-2")
    assert "In the place of" in client.get("/tools/DECK/").text


def test_a_retired_tool_takes_nobodys_place_but_keeps_the_one_it_took(client, typed, morning):
    deck = mold("DECK", morning, in_place_of=mold("OLD", morning))
    mold("WORN", morning)
    do("retire", deck, at=ago(hours=1), reason="worn")
    said = client.post(CHANGE, {**typed(CHANGE), "in_place_of": "WORN"}).context["form"].errors
    assert said == {"in_place_of": ["This tool is retired: it takes nobody’s place."]}
    assert client.post(CHANGE, {**typed(CHANGE), "note": "gone"}).status_code == 302
    deck.refresh_from_db()
    assert (deck.in_place_of.code, deck.note) == ("OLD", "gone")
