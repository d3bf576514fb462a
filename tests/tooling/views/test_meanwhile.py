"""Two leads change the same tool, part or place: nothing that either typed is lost, and nothing is undone unseen."""

import json

import pytest

from shared import clock
from tests.tooling.views.works import do, mold
from tooling.models import Part, PartRevision, Person, Place, Tool, ToolChange
from tooling.services.catalogue import change_tool
from tooling.services.parts import change_revision

pytestmark = [pytest.mark.django_db, pytest.mark.both]
CHANGE = "/tools/DECK/change/"


@pytest.fixture
def deck(client, lead, morning):
    client.force_login(lead, backend="shared.access.RoleBackend")
    return mold("DECK", morning, owner="the shop", lift="one")


@pytest.fixture
def mara(lead):
    """Another lead, at another screen."""
    return Person.objects.create(name="Mara", role="lead")


@pytest.fixture
def stood(client):
    def values(address):
        form = client.get(address).context["form"]
        values = {name: form[name].value() for name in form.fields}
        return {name: value for name, value in values.items() if value not in (None, False)}

    return values


def sent_again(form):
    """The form as it came back, sent off as it stands."""
    values = {name: form[name].value() for name in form.fields}
    return {name: value for name, value in values.items() if value not in (None, False)}


@pytest.fixture
def meanwhile(deck, mara):
    return lambda **columns: change_tool(deck, by=mara, at=clock.now(), columns=columns)


def test_what_the_other_changed_elsewhere_stays_and_is_said(client, deck, stood, meanwhile):
    screen = stood(CHANGE)
    meanwhile(owner="Sluicegate")
    text = client.post(CHANGE, {**screen, "lift": "two"}, follow=True).text
    deck.refresh_from_db()
    assert (deck.owner, deck.lift) == ("Sluicegate", "two")
    assert "Mara changed “Owner” meanwhile: that stays." in text


def test_a_clash_is_said_at_its_field_with_both_and_asked_once(client, deck, stood, meanwhile):
    screen = stood(CHANGE)
    meanwhile(owner="Sluicegate", note="mind the rim")
    form = client.post(CHANGE, {**screen, "owner": "Saltbatch", "lift": "two"}).context["form"]
    said = "Mara made this “Sluicegate” meanwhile. To put what you typed in its place, keep it again."
    assert form.errors == {"owner": [said]}
    assert (form["owner"].value(), form["lift"].value(), form["note"].value()) == ("Saltbatch", "two", "mind the rim")
    assert "Mara changed this meanwhile." in form["note"].help_text
    deck.refresh_from_db()
    assert (deck.owner, deck.lift) == ("Sluicegate", "one")
    assert client.post(CHANGE, sent_again(form)).url == "/tools/DECK/"
    deck.refresh_from_db()
    assert (deck.owner, deck.lift, deck.note) == ("Saltbatch", "two", "mind the rim")
    assert ToolChange.objects.filter(field="owner").first().before == "Sluicegate"


def test_the_same_change_by_both_is_one_change(client, deck, stood, meanwhile):
    screen = stood(CHANGE)
    meanwhile(owner="Sluicegate")
    assert client.post(CHANGE, {**screen, "owner": "Sluicegate"}).url == "/tools/DECK/"
    assert ToolChange.objects.filter(field="owner").count() == 1


def test_another_home_by_a_deed_is_told_by_name(client, deck, stood, mara):
    here, there = (Place.objects.create(code=code, name=f"Rack {code}") for code in ("B-1", "C-1"))
    screen = stood(CHANGE)
    do("move", deck, mara, place=here, home=True)
    form = client.post(CHANGE, {**screen, "place": there.pk}).context["form"]
    assert "Mara made this “B-1 · Rack B-1” meanwhile." in form.errors["place"][0]


@pytest.mark.parametrize("seen", ["", "[]", "nonsense", "[" * 9999, json.dumps({"owner": [1], "lift": 7})])
def test_a_form_that_does_not_say_what_stood_there_asks(client, deck, stood, seen):
    form = client.post(CHANGE, {**stood(CHANGE), "seen": seen, "owner": "Saltbatch"}).context["form"]
    assert "Somebody else made this “the shop” meanwhile." in form.errors["owner"][0]
    assert Tool.objects.get().owner == "the shop"


def test_lines_that_the_browser_ends_otherwise_are_no_change(client, deck, stood):
    Tool.objects.update(note="one\ntwo")
    client.post(CHANGE, {**stood(CHANGE), "note": "one\r\ntwo", "lift": "two"})
    assert [change.field for change in ToolChange.objects.all()] == ["lift"]


def test_a_revision_of_a_part_and_a_place_as_well(client, deck, stood, mara):
    row = PartRevision.objects.create(part=Part.objects.create(number="K1"), name="Deck")
    address = f"/parts/K1/revisions/{row.pk}/"
    screen = stood(address)
    change_revision(row, by=mara, at=clock.now(), columns={"resin": "epoxy", "laminate": "4 plies"})
    form = client.post(address, {**screen, "laminate": "5 plies"}).context["form"]
    assert "Mara made this “4 plies” meanwhile." in form.errors["laminate"][0]
    client.post(address, sent_again(form))
    row.refresh_from_db()
    assert (row.resin, row.laminate) == ("epoxy", "5 plies")
    text = client.get("/parts/K1/").text
    assert "<del>4 plies</del> → <ins>5 plies</ins>" in text
    place = Place.objects.create(code="B-1", name="Shelf")
    screen = stood("/racks/B-1/change/")
    Place.objects.update(name="Lower shelf")
    form = client.post("/racks/B-1/change/", {**screen, "name": "Low shelf"}).context["form"]
    assert "Somebody else made this “Lower shelf” meanwhile." in form.errors["name"][0]
    client.post("/racks/B-1/change/", sent_again(form))
    place.refresh_from_db()
    assert place.name == "Low shelf"
