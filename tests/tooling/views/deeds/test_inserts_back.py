"""Are the mold inserts back: one tap for all, else which one is missing, and seen for the day that nobody said."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from shared import clock
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Kind, Summary
from tooling.services.recheck import differences
from tooling.services.tools import add_tool, rules

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)
    shop.other = add_tool(code="COAM-A", name="Coaming", kind=Kind.INSERT, release_system=shop.wax)
    happened.install(shop.other, mold=shop.mold)


@pytest.fixture
def pulled(send):
    """Pulls a part, and says what is sent about the inserts of the standing pull."""
    send("pulled", came_off="free", serial="0173")

    def said(name="seen", token=None, **typed):
        return send(name, number=standing().number, token=token, **typed)

    return said


def standing(kind="pull"):
    return Entry.objects.filter(kind=kind).standing().latest("pk")


def test_one_tap_says_that_all_are_back(client, pulled):
    answer = pulled(inserts="all", fault="drag")
    assert answer.url == f"/tools/DECK-2A/entries/{standing().number}/seen/"
    assert (standing().payload["inserts_back"], standing().payload["fault"]) == (True, "drag")
    page = client.get(answer.url).text
    assert "Inserts back, 2 of 2" in page
    assert "Written: all are back." in page


@pytest.mark.parametrize(("where", "serial", "note"), [("stuck", "0173", "stuck in"), ("gone", "", "not found")])
def test_a_missing_one_is_removed_with_the_serial_of_its_part(pulled, shop, where, serial, note):
    token, number = uuid4(), standing().number
    typed = {"inserts": "some", f"insert_{shop.insert.pk}": where, "stuck_in": "0173", "token": token}
    for _ in range(2):
        assert pulled(**typed).status_code == 302
    gone = Entry.objects.get(kind="removed")
    assert (gone.tool, gone.serial, note in gone.payload["note"]) == (shop.insert, serial, True)
    assert standing().payload["inserts_back"] is False
    assert standing().replaces.number == number
    counts = Summary.objects.filter(tool__in=[shop.insert, shop.other]).values_list("total_pulls", flat=True)
    assert list(counts) == [1, 1]
    assert not list(differences(rules()))


def test_where_a_missing_one_left_its_mark_can_be_said(pulled, shop):
    pulled(came_off="tight")
    pulled(inserts="some", **{f"insert_{shop.insert.pk}": "stuck"})
    pulled(surface="HATCH7", cause="undercut", **{f"insert_{shop.insert.pk}": "stuck", "stuck_in": "0173"})
    assert standing().payload["surface"] == shop.insert.pk


def test_found_after_all_it_is_in_the_mold_again(pulled, shop):
    pulled(inserts="some", **{f"insert_{shop.insert.pk}": "gone"})
    assert Summary.objects.get(tool=shop.insert).in_mold_of is None
    pulled(inserts="all", **{f"insert_{shop.insert.pk}": ""})
    assert Summary.objects.get(tool=shop.insert).in_mold_of == shop.mold
    assert standing().payload["inserts_back"] is True


def test_what_contradicts_itself_is_asked_back(pulled, shop):
    before = Entry.objects.count()
    assert errors(pulled(inserts="some")) == {"inserts": ["Tap which one is missing."]}
    both = pulled(inserts="all", note="by the bow", **{f"insert_{shop.insert.pk}": "gone"})
    assert "HATCH7 is said to be missing" in errors(both)["inserts"][0]
    assert "by the bow" in both.text
    assert errors(pulled("inserts_back")) == {"inserts": ["Tap whether they are back."]}
    assert Entry.objects.count() == before


def test_not_said_stands_on_the_page_of_the_tool_for_the_day(client, pulled):
    with time_machine.travel(clock.now() + timedelta(hours=24), tick=False):
        assert "Inserts back?" not in client.get("/tools/DECK-2A/").text
    page = client.get("/tools/DECK-2A/").text
    assert "Inserts back?" in page
    assert f'href="/tools/DECK-2A/entries/{standing().number}/inserts-back/"' in page
    pulled(inserts="all")
    assert "Inserts back?" not in client.get("/tools/DECK-2A/").text


def test_another_hand_may_say_it_later_and_the_pull_stays_whose_it_was(client, pulled, lead, hand):
    client.force_login(lead)
    with time_machine.travel(clock.now() + timedelta(hours=2), tick=False):
        assert client.get(f"/tools/DECK-2A/entries/{standing().number}/inserts-back/").status_code == 200
        assert pulled("inserts_back", inserts="all", by=lead.pk).url == "/tools/DECK-2A/"
    assert (standing().by, standing().recorded_by) == (hand, lead)
    with time_machine.travel(clock.now() + timedelta(days=2), tick=False):
        assert "for a day" in str(errors(pulled("inserts_back", inserts="all", by=lead.pk)))


def test_of_a_pull_that_is_gone_nothing_is_asked(client, pulled, send):
    number = standing().number
    send("rub_out", number=number)
    assert client.get(f"/tools/DECK-2A/entries/{number}/inserts-back/").status_code == 302
    assert send("inserts_back", number=number, inserts="all").status_code == 200
    assert client.get("/tools/DECK-2A/entries/1/inserts-back/").status_code == 404


def test_at_a_station_it_is_asked_whose_hands_looked(client, pulled, shop, station, hand):
    client.force_login(station)
    typed = {"inserts": "some", f"insert_{shop.insert.pk}": "gone"}
    assert errors(pulled("inserts_back", **typed)) == {"by": ["Whose hands were it?"]}
    assert pulled("inserts_back", **typed, by=hand.pk).status_code == 302
    gone = Entry.objects.get(kind="removed")
    assert (gone.by, gone.recorded_by) == (hand, station)


@pytest.mark.parametrize("later", [timedelta(hours=2), timedelta()])
def test_said_by_another_that_it_is_back_it_is_put_in_again(client, pulled, shop, lead, later):
    pulled(inserts="some", **{f"insert_{shop.insert.pk}": "gone"})
    client.force_login(lead)
    said, token = {"inserts": "all", "by": lead.pk, f"insert_{shop.insert.pk}": ""}, uuid4()
    with time_machine.travel(clock.now() + later, tick=False):
        for _twice in range(2):
            assert pulled("inserts_back", **said, token=token).url == "/tools/DECK-2A/"
    assert (standing("installed").tool, standing("installed").by) == (shop.insert, lead)
    assert Entry.objects.filter(kind="removed").standing().count() == 1
    assert Summary.objects.get(tool=shop.insert).in_mold_of == shop.mold
    assert standing().payload["inserts_back"] is True
    assert not list(differences(rules()))


def test_where_one_of_them_is_refused_nothing_is_written(client, pulled, shop, lead):
    pulled(inserts="some", **{f"insert_{shop.insert.pk}": "gone"})
    other = add_tool(code="DECK-2B", name="Deck", kind=Kind.MOLD, release_system=shop.wax)
    client.force_login(lead)
    with time_machine.travel(clock.now() + timedelta(hours=2), tick=False):
        happened.install(shop.insert, mold=other)
        before = Entry.objects.count()
        answer = pulled("inserts_back", inserts="all", by=lead.pk, **{f"insert_{shop.insert.pk}": ""})
    assert "DECK-2B" in str(errors(answer))
    assert (Entry.objects.count(), standing().payload["inserts_back"]) == (before, False)


def test_said_later_that_it_is_in_the_part_the_removal_is_corrected(client, pulled, shop, lead):
    pulled(inserts="some", **{f"insert_{shop.insert.pk}": "gone"})
    client.force_login(lead)
    said = {"inserts": "some", "by": lead.pk, "stuck_in": "0173", f"insert_{shop.insert.pk}": "stuck"}
    with time_machine.travel(clock.now() + timedelta(hours=2), tick=False):
        assert pulled("inserts_back", **said).status_code == 302
    assert (standing("removed").serial, standing("removed").replaces.tool) == ("0173", shop.insert)


def test_the_part_that_an_insert_is_stuck_in_is_asked_once(send, shop):
    send("pulled", came_off="free")
    typed = {"number": standing().number, "inserts": "some", f"insert_{shop.insert.pk}": "stuck"}
    assert "stuck_in" in send("seen", **typed).context["form"].errors
    assert not Entry.objects.filter(kind="removed").exists()
    assert send("seen", **typed, no_number="on").status_code == 302
    assert Entry.objects.get(kind="removed").serial == "no number"
