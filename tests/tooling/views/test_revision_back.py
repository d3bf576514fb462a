"""A further revision that was written down by mistake: taken back, put back, and when it stays."""

import pytest

from shared.clock import now
from tests.tooling.views.sets.conftest import deck as deck
from tests.tooling.views.sets.conftest import put as put
from tests.tooling.views.sets.conftest import what
from tests.tooling.views.works import ago, do, mold
from tooling.models import PartRevision
from tooling.services.parts import add_revision
from tooling.services.wanted import want

pytestmark = [pytest.mark.django_db, pytest.mark.both]
DECK, REVISE = "/parts/SK520-DECK/", "/parts/SK520-DECK/revise/"


@pytest.fixture
def slip(deck, put, lead):
    """A second revision with the tool of the first."""
    put("DECK-2A", order=3)
    return add_revision(deck.part, by=lead, at=now(), columns={"revision": "B", "note": "x" * 4000}, like=deck)


def change(row):
    return f"/parts/SK520-DECK/revisions/{row.pk}/"


def names():
    return list(PartRevision.objects.newest_first().values_list("revision", flat=True))


def test_it_is_taken_back_and_put_back_with_its_set(sign_in, slip):
    client = sign_in("lead")
    assert f'{change(slip)}#back"' in client.get(DECK).text
    assert "Revision A is the newest again, then" in client.get(change(slip)).text
    assert client.post(change(slip), {"do": "take_back"}).url == DECK
    assert names() == ["A"]
    text = client.get(DECK, {"made": "yes"}).text
    assert "Revision B is taken back." in text
    assert "Revision B taken back" in text
    assert client.post(REVISE, {"do": "put_back"}).url == DECK
    back = PartRevision.objects.newest_first().first()
    assert (back.revision, len(back.note), what(back)) == ("B", 4000, ["DECK-2A"])
    assert "taken back.<" not in client.get(DECK).text
    client.post(REVISE, {"do": "put_back"})
    assert names() == ["B", "A"]


def test_it_is_put_back_for_five_minutes(sign_in, slip, morning, monkeypatch):
    client = sign_in("lead")
    client.post(change(slip), {"do": "take_back"})
    monkeypatch.setattr("shared.clock.now", lambda: ago(minutes=-6))
    assert "Put it back" not in client.get(DECK).text
    client.post(REVISE, {"do": "put_back"})
    assert names() == ["A"]


@pytest.mark.parametrize("why", ["wanted", "laid up", "laid up unnamed", "older", "only one"])
def test_what_something_goes_by_stays(sign_in, slip, deck, lead, morning, why):
    row = deck if why == "older" else slip
    if why == "wanted":
        want(deck.part, by=lead, at=now(), revision=slip)
    elif why.startswith("laid up"):
        do("lay_up", mold("NEW", morning), part="sk520-deck", revision=None if "unnamed" in why else slip)
    elif why == "only one":
        deck.delete()
    client, before = sign_in("lead"), names()
    assert ("Take this revision back" in client.get(change(row)).text) is False
    client.post(change(row), {"do": "take_back"})
    assert names() == before


def test_where_revisions_have_names_another_one_is_asked_for_its_own(sign_in, slip):
    client = sign_in("lead")
    for address in (REVISE, change(slip)):
        form = client.get(address).context["form"]
        typed = {**{name: form[name].value() for name in form.fields}, "revision": " ", "name": "Deck, new"}
        reply = client.post(address, typed)
        assert reply.context["form"].errors["revision"][0].startswith("Name the revision: the others have a name")
    assert names() == ["B", "A"]
