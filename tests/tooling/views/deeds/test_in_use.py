"""A lead accepts what was made and brings back what was retired; neither where there is nothing to do."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, Kind, Summary, Tool
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client, lead):
    """Whose hands it was is asked of a lead."""
    client.force_login(lead)
    return lead


@pytest.fixture
def made(shop):
    return add_tool(code="NEW-1", name="Deck", kind=Kind.MOLD, release_system=shop.wax, in_making=True)


def test_what_was_made_is_accepted_once(client, send, signed_in, made):
    token = uuid4()
    assert "Accept it" in client.get("/tools/NEW-1/").text
    for _twice in range(2):
        assert send("accepted", "NEW-1", token=token, by=signed_in.pk, note="flat").url == "/tools/NEW-1/"
    assert not Summary.objects.get(tool=made).making
    assert Entry.objects.get(kind="accepted").payload["note"] == "flat"
    assert "Accept it" not in client.get("/tools/NEW-1/").text
    again = send("accepted", "NEW-1", by=signed_in.pk)
    assert "there is nothing to accept" in again.text
    assert Entry.objects.filter(kind="accepted").count() == 1


def test_what_lies_on_its_plug_is_asked_about(client, send, signed_in, made, shop):
    plug = add_tool(code="PLUG-1", name="Deck plug", kind=Kind.PLUG, release_system=shop.wax)
    Tool.objects.filter(pk=made.pk).update(made_from=plug)
    assert "looked" not in send("accepted", "NEW-1", by=signed_in.pk, at="earlier").context["form"].fields
    happened.make_step(made, step="on the plug, curing")
    happened.lay_up(plug, part="NEW-1", earliest_pull=now() + timedelta(hours=20))
    page = client.get("/tools/NEW-1/accepted/").text
    assert "The last step written is: on the plug, curing." in page
    assert "Molding on the plug, not before" in page
    assert "Accept only what is off its plug" in send("accepted", "NEW-1", by=signed_in.pk).text
    assert Summary.objects.get(tool=made).making
    assert send("accepted", "NEW-1", by=signed_in.pk, looked="on").status_code == 302
    assert not Summary.objects.get(tool=made).making


def test_what_was_retired_comes_back_held(client, send, signed_in, shop):
    assert "there is nothing to bring back" in send("reinstated", by=signed_in.pk).text
    assert "Reinstate it" not in client.get("/tools/DECK-2A/").text
    happened.hold(shop.mold, reason="dull along the keel")
    happened.retire(shop.mold, reason="worn")
    assert "Reinstate it" in client.get("/tools/DECK-2A/").text
    page = client.get("/tools/DECK-2A/reinstated/").text
    assert "“worn”" in page
    assert "“dull along the keel”" in page
    assert "Say why it is brought back." in send("reinstated", by=signed_in.pk).text
    assert send("reinstated", by=signed_in.pk, reason="one more deck").status_code == 302
    assert Entry.objects.get(kind="reinstated").payload["reason"] == "one more deck"
    summary = Summary.objects.get(tool=shop.mold)
    assert (summary.retired, list(summary.state["holds"])) == (False, ["reinstated"])


@pytest.mark.parametrize("name", ["accepted", "reinstated"])
def test_looking_writes_nothing_and_a_hand_may_not(client, signed_in, hand, made, name):
    before = Entry.objects.count()
    assert client.get(f"/tools/NEW-1/{name}/").status_code == 200
    client.force_login(hand)
    assert client.post(f"/tools/NEW-1/{name}/", {"token": uuid4(), "at": "now"}).status_code == 403
    assert "Accept it" not in client.get("/tools/NEW-1/").text
    assert Entry.objects.count() == before
