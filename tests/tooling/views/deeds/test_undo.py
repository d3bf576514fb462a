"""Rubbing out, void, correct."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from shared import clock
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Person, Summary

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def last():
    return Entry.objects.order_by("id").last()


def test_what_was_just_written_can_be_rubbed_out_twice_over(client, send, shop):
    send("pulled", came_off="free")
    number = last().number
    assert "Rub it out" in client.get("/tools/DECK-2A/").text
    token = uuid4()
    for _ in range(2):
        assert send("rub_out", number=number, token=token).url == "/tools/DECK-2A/"
    assert Summary.objects.get(tool=shop.mold).total_pulls == 0
    assert Entry.objects.filter(kind="void").count() == 1
    assert "Rubbed out: Pulled, free." in client.get("/tools/DECK-2A/").text


def test_after_five_minutes_and_for_others_it_stays(client, send, shop, lead):
    send("pulled", came_off="free")
    number = last().number
    with time_machine.travel(clock.now() + timedelta(minutes=6), tick=False):
        assert "Rub it out" not in client.get("/tools/DECK-2A/").text
        send("rub_out", number=number)
    client.force_login(lead)
    send("rub_out", number=number)
    assert not Entry.objects.filter(kind="void").exists()
    assert "A lead can void it" in client.get("/tools/DECK-2A/").text


def test_what_was_rubbed_out_in_time_is_answered_the_same_later(client, send):
    send("pulled", came_off="free")
    number, token = last().number, uuid4()
    assert send("rub_out", number=number, token=token).status_code == 302
    with time_machine.travel(clock.now() + timedelta(minutes=6), tick=False):
        send("rub_out", number=number, token=token)
        assert "Rubbed out: Pulled, free." in client.get("/tools/DECK-2A/").text
    assert Entry.objects.filter(kind="void").count() == 1


def test_at_a_station_it_is_said_by_whom(client, send, station):
    client.force_login(station)
    mara = Person.objects.named("Mara")
    send("pulled", came_off="free", by=mara.pk)
    assert "It stays written as by Mara." in client.get(f"/tools/DECK-2A/entries/{last().number}/seen/").text
    assert "By Mara." in client.get("/tools/DECK-2A/").text
    send("seen", number=last().number, came_off="light", by=mara.pk)
    assert (last().by, last().payload["why"]) == (mara, "tapped wrong")
    page = send("rub_out", number=last().number)
    assert (page.status_code, last().kind) == (200, "pull")
    assert "Mara: rub it out" in page.text
    send("rub_out", number=last().number, by=mara.pk)
    assert (last().kind, last().by) == ("void", mara)
    assert "Rubbed out, as by Mara:" in client.get("/tools/DECK-2A/").text


def test_a_correction_that_changes_nothing_is_refused(client, send, shop, lead):
    happened.log_pull(shop.mold, came_off="tight", serial="0173", surface=shop.insert, part_damaged=True)
    old = last()
    client.force_login(lead)
    form = client.get(f"/tools/DECK-2A/entries/{old.number}/correct/").context["form"]
    typed = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    typed["why"] = "no reason"
    assert "Nothing is changed yet" in send("correct", number=old.number, **typed).text
    assert last() == old


def test_opening_the_address_rubs_nothing_out(client, send):
    send("pulled", came_off="free")
    assert client.get(f"/tools/DECK-2A/entries/{last().number}/rub-out/").url == "/tools/DECK-2A/"
    assert not Entry.objects.filter(kind="void").exists()


def test_a_lead_voids_with_a_reason(client, send, shop, lead):
    send("pulled", came_off="free")
    number = last().number
    client.force_login(lead)
    assert client.get(f"/tools/DECK-2A/entries/{number}/void/").status_code == 200
    assert "why" in errors(send("void", number=number))
    assert send("void", number=number, by=lead.pk, why="written twice").status_code == 302
    assert (last().payload["reason"], Summary.objects.get(tool=shop.mold).total_pulls) == ("written twice", 0)
    again = send("void", number=number, by=lead.pk, why="again")
    assert "void or corrected already" in again.text


def test_a_lead_corrects_and_what_was_left_alone_stays(client, send, shop, lead):
    happened.log_pull(shop.mold, came_off="tight", serial="0173", cause="release", surface=shop.insert, token=uuid4())
    old = last()
    client.force_login(lead)
    form = client.get(f"/tools/DECK-2A/entries/{old.number}/correct/").context["form"]
    typed = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    answer = send("correct", number=old.number, **{**typed, "came_off": "light", "why": "thumb slipped"})
    assert answer.status_code == 302
    new = last()
    assert (new.replaces, new.came_off, new.serial, new.at) == (old, "light", "0173", old.at)
    assert (new.payload["cause"], new.payload["surface"], new.payload["why"]) == (
        "release", shop.insert.pk, "thumb slipped",
    )  # fmt: skip
    assert Summary.objects.get(tool=shop.mold).total_pulls == 1


def test_every_kind_of_entry_has_a_page_to_correct_it(client, send, shop, lead):
    client.force_login(lead)
    happened.lay_up(shop.mold, part="X", film=True)
    happened.end_lay_up(shop.mold, earliest_pull=clock.now())
    happened.log_pull(shop.mold, came_off="free")
    happened.log_sealer(shop.mold)
    happened.lay_film(shop.mold)
    happened.strip(shop.mold)
    happened.hold(shop.mold, reason="chip")
    happened.inspect(shop.mold, passed=True)
    happened.set_interval(shop.mold, count=2, evidence="seen")
    happened.take_note(shop.mold, note="new trolley")
    happened.void(last(), reason="no")
    for entry in Entry.objects.filter(tool=shop.mold):
        page = client.get(f"/tools/DECK-2A/entries/{entry.number}/correct/")
        assert page.status_code == 200
        form = page.context["form"]
        typed = {name: form[name].value() for name in form.fields if form[name].value() is not None}
        typed |= {"why": "looked over", "note": "seen again"}
        answer = send("correct", number=entry.number, **typed)
        assert answer.status_code == 302 or entry.kind in ("void", "note")
    interval = Entry.objects.get(kind="interval", replaced_by=None)
    assert (interval.count, interval.payload["evidence"]) == (2, "seen")


def test_an_entry_of_another_tool_is_not_here(client, send, shop, lead):
    client.force_login(lead)
    beyond = Entry.objects.filter(tool=shop.mold).count() + 5
    for name in ("void", "correct", "rub_out"):
        assert send(name, number=beyond, by=lead.pk, why="x").status_code == 404
        assert send(name, number=10**25, by=lead.pk, why="x").status_code == 404
