"""A tool that a lead puts into a set from its own page, and the sets that its page names."""

import pytest

from tests.tooling.views.sets.conftest import what
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Part, SetLine

pytestmark = pytest.mark.django_db
INTO = "/tools/DECK-2B/into-set/"


@pytest.fixture
def tool(morning):
    return mold("DECK-2B", morning)


def test_a_tool_goes_into_the_newest_revision_and_its_page_says_so(desk, deck, tool):
    deck.part.revisions.create(revision="B", name="Deck")
    reply = desk.post(INTO, {"part": "sk520-deck"})
    assert reply.url == "/parts/SK520-DECK/set/?revision=B"
    assert "DECK-2B is in the set." in desk.get(reply.url).text
    assert (what(deck), SetLine.objects.get().revision.revision) == ([], "B")
    assert "DECK-2B is in this set already" in desk.post(INTO, {"part": "SK520-DECK"}).text
    page = desk.get("/tools/DECK-2B/").text
    assert 'href="/parts/SK520-DECK/?revision=B"' in page
    assert 'href="/parts/SK520-DECK/set/?revision=B"' in page


def test_parts_of_its_history_are_one_tap(desk, deck, tool):
    do("log_pull", tool, at=ago(hours=1), part="sk520-deck")
    do("log_pull", tool, at=ago(hours=1), part="NOBODY-WROTE")
    assert [part.number for part in desk.get(INTO).context["named"]] == ["SK520-DECK"]
    desk.post(INTO, {"part": "SK520-DECK"})
    assert desk.get(INTO).context["named"] == []


@pytest.mark.parametrize(
    ("part", "says"),
    [("", "Which part?"), ("SK250-DEKC", "Is it SK520-DECK?"), ("x" * 81, "At most 80"), ("BARE", "no revision yet")],
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(desk, deck, tool, part, says):
    Part.objects.create(number="BARE")
    reply = desk.post(INTO, {"part": part})
    assert says in reply.context["form"].errors["part"][0]
    assert reply.context["form"]["part"].value() == part
    assert not SetLine.objects.exists()


def test_a_plug_is_told_and_a_get_does_nothing(desk, deck, tool, morning):
    mold("PLUG", morning, kind=Kind.PLUG, pulls=None)
    assert "PLUG is a plug" in desk.post("/tools/PLUG/into-set/", {"part": "SK520-DECK"}).text
    assert "into-set" not in desk.get("/tools/PLUG/").text
    desk.get(INTO, {"part": "SK520-DECK"})
    assert desk.post("/tools/NONE/into-set/", {"part": "SK520-DECK"}).status_code == 404
    assert not SetLine.objects.exists()


@pytest.mark.parametrize("role", ["reader", "hand", "station"])
def test_nobody_but_a_lead_puts_it_in(sign_in, deck, tool, role):
    client = sign_in(role)
    assert client.get(INTO).status_code == client.post(INTO, {"part": "SK520-DECK"}).status_code == 403
    assert INTO not in client.get("/tools/DECK-2B/").text
    client.logout()
    assert client.get(INTO).url == f"/sign-in/?next={INTO}"
