"""How the second half came off stays asked until it is said: by any hand within a day, by a lead later."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from shared import clock
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Kind, Summary, Tool
from tooling.services import deeds
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
ASKS = "How did DECK-2C come off?"


@pytest.fixture
def second(client, hand, shop):
    """The pull of the second half, of which nothing is said."""
    client.force_login(hand)
    Tool.objects.filter(pk=shop.mold.pk).update(matched_set="Deck")
    shop.mold.refresh_from_db()
    other = add_tool(code="DECK-2C", name="Other half", kind=Kind.MOLD, release_system=shop.wax, matched_set="Deck")
    happened.log_coat(other)
    halves = [(shop.mold, None), (other, None)]
    return deeds.take_off_set(halves, came_off="free", by=hand, recorded_by=hand, token=uuid4())[1]


def say(client, pull, word):
    address = f"/tools/DECK-2C/entries/{pull.number}/how-off/"
    return client.post(address, {"token": str(uuid4()), "came_off": word})


def asked(client):
    return [ASKS in client.get(address).text for address in ("/tools/DECK-2C/", "/", "/wall/")]


def test_it_is_asked_wherever_the_half_stands_until_it_is_said(client, second):
    assert asked(client) == [True] * 3
    assert "How did DECK-2A" not in client.get("/tools/DECK-2A/").text
    deeds.correct(second, reason="part", changes={"part": "FIN"}, by=second.by, recorded_by=second.by)
    assert ASKS in client.get("/tools/DECK-2C/").text
    standing = Entry.objects.filter(tool=second.tool, kind="pull").standing().get()
    answer = say(client, standing, "tight")
    assert answer.url == f"/tools/DECK-2C/entries/{standing.number + 1}/seen/"
    assert asked(client) == [False] * 3
    assert Entry.objects.filter(kind="pull", tool=second.tool).standing().get().came_off == "tight"


def test_stuck_holds_it_until_somebody_has_looked(client, second):
    say(client, second, "stuck")
    assert Summary.objects.get(tool=second.tool).held_since is not None


def test_after_a_day_it_is_the_leads_to_say(client, second, lead):
    with time_machine.travel(clock.now() + timedelta(hours=25), tick=False):
        assert ASKS in client.get("/tools/DECK-2C/").text
        assert "Ask a lead" in str(errors(say(client, second, "free")))
        assert "mark-deed" not in client.get(f"/tools/DECK-2C/entries/{second.number}/how-off/").text
        client.force_login(lead)
        assert say(client, second, "free").status_code == 302
    assert Entry.objects.filter(kind="pull", tool=second.tool).standing().get().came_off == "free"


def test_what_is_said_or_no_pull_is_not_asked(client, second):
    assert errors(say(client, second, "sideways"))
    say(client, second, "free")
    assert "by now" in str(errors(say(client, second, "stuck")))
    coat = Entry.objects.filter(tool=second.tool, kind="coat").first()
    assert client.get(f"/tools/DECK-2C/entries/{coat.number}/how-off/").status_code == 404
    assert client.get(f"/tools/DECK-2C/entries/{second.number}/how-off/").url == "/tools/DECK-2C/"
