"""Trimmed: two taps after the scan; what was spoiled holds the trim mask and asks for a picture."""

from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Person
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.services import deeds

pytestmark = pytest.mark.django_db
PAGE = "/tools/COAM-TRIM/trimmed/"


@pytest.fixture(autouse=True)
def signed_in(client, hand, pulled):
    client.force_login(hand)


@pytest.fixture
def trimmed(client, send):
    """Taps as the page stands: with all that it offers, unless something else is said."""

    def tap(outcome="good", **typed):
        form = client.get(PAGE).context["form"]
        offered = {name: form[name].value() or "" for name in ("serial", "likely", "part", "cutter")}
        return send("trimmed", "COAM-TRIM", **{**offered, "outcome": outcome, **typed})

    return tap


def used():
    return Entry.objects.filter(kind="used").latest("pk")


def test_one_tap_writes_the_newest_part_that_waits(client, shop, trimmed):
    mask = Mask.objects.create(tool=shop.mask, outline="0 0; 600 0; 600 300; 0 300")
    for code, kind, long in (("C6", "edge", None), ("B4", "mark", 500)):
        cutter = Cutter.objects.create(code=code, kind="cutter")
        Feature.objects.create(mask=mask, kind=kind, method="bearing", cutter=cutter, length_mm=long)
    assert trimmed().url == "/tools/COAM-TRIM/"
    cut = used()
    assert (cut.part, cut.serial, cut.count, cut.payload["cutter"]) == ("SK520-DECK", "0172", 1, "B4, C6")
    assert cut.payload["metres"] == "2.3"
    assert "outcome" not in cut.payload
    page = client.get(PAGE)
    assert page.context["form"].offered.serials == ("0171", "0170")
    assert "nothing went wrong that was seen" in page.text  # one tap is no check of the edge
    assert "Trimmed." in client.get("/tools/COAM-TRIM/").text
    trimmed(cutter="C6", serial=["0171", "0170"])
    assert used().payload["metres"] == "3.6"


def test_several_are_as_many_as_have_a_number(trimmed):
    trimmed(serial=["0172", "0171"], other_serial="0170", took="", minutes="36")
    assert (used().serial, used().count, used().payload["minutes"]) == ("0172, 0171, 0170", 3, "36")
    trimmed(serial="0169", took="12")
    assert used().payload["minutes"] == "12"


@pytest.mark.parametrize("outcome", ["gouged", "slipped"])
def test_what_was_spoiled_leads_to_the_cross_and_its_picture(client, shop, trimmed, outcome):
    reply = trimmed(outcome)
    page = client.get(reply.url)
    assert page.text.index("help first, the rest can wait") < page.text.index("Tape a cross on it now.")
    hold = Entry.objects.get(kind="hold")
    assert f'action="/tools/COAM-TRIM/entries/{hold.number}/pictures/"' in page.text
    assert f'action="/tools/COAM-TRIM/entries/{used().number}/rub-out/"' in page.text
    happened.inspect(shop.mask, passed=True)
    assert client.get(reply.url).url == "/tools/COAM-TRIM/"


def test_a_held_one_says_so_before_and_keeps_what_stood_against_it(client, shop, trimmed):
    happened.hold(shop.mask, reason="bent at the bow")
    assert errors(trimmed())["__all__"][0].startswith("Something else stands against it by now.")
    page = client.get(PAGE)
    assert "It may not be used now" in page.text
    seen = [one.key for one in page.context["stops"]]
    trimmed(seen=seen)
    assert used().payload["against"] == ", ".join(seen)
    assert "What stood against it: held" in client.get("/tools/COAM-TRIM/").text


def test_twice_is_once_and_other_content_is_a_conflict(client, send):
    token, said = uuid4(), {"serial": "0172", "part": "SK520-DECK"}
    for _ in range(2):
        assert send("trimmed", "COAM-TRIM", token=token, outcome="gouged", **said).url.endswith("/cross/")
    assert Entry.objects.filter(kind__in=["used", "hold"]).count() == 2
    assert send("trimmed", "COAM-TRIM", token=token, outcome="good", **said).status_code == 409


def test_what_is_odd_is_asked_and_what_is_wrong_is_said(trimmed):
    trimmed()
    assert "was trimmed with it already" in errors(trimmed(serial="0172"))["other_serial"][0]
    assert trimmed(serial="0172", sure="trimmed 0172").status_code == 302
    assert "is of part SK520-DECK" in errors(trimmed(part="SK440-DECK"))["part"][0]
    assert "Write it all the same?" in errors(trimmed(count="4"))["count"][0]
    assert errors(trimmed(outcome="")) == {"outcome": ["Tap how it went."]}
    assert errors(trimmed(minutes="2000")) == {"minutes": ["That is more than a day. Check the minutes."]}


def test_a_typed_number_stands_instead_of_the_one_that_the_page_ticked(trimmed):
    trimmed(other_serial="0170")
    assert (used().serial, used().count) == ("0170", 1)
    trimmed(other_serial="0171, 0172")
    assert (used().serial, used().count) == ("0171, 0172", 2)


def test_a_number_that_nobody_made_is_asked(trimmed):
    asked_of = errors(trimmed(other_serial="0170 0170"))["other_serial"]
    assert asked_of == ["No lay-up and no pull of SK520-DECK names 0170 0170. Write it all the same?"]
    assert trimmed(other_serial="0999", sure="unknown 0999").status_code == 302


def test_a_part_that_was_trimmed_is_asked_and_none_is_nameless_by_silence(client, trimmed):
    trimmed()
    again = client.get(f"{PAGE}?part=SK520-DECK&serial=0172")
    assert "0172 was trimmed with it already" in again.text
    form = again.context["form"]
    assert (form.offered.serials, form["serial"].value()) == (("0171", "0170", "0172"), [])
    assert errors(trimmed(serial=[]))["other_serial"] == ["No serial number is said. Write it without one?"]
    trimmed(serial=[], sure="nameless")
    assert (used().serial, used().count) == ("", 1)


def test_a_gone_cutter_is_not_ticked_and_an_unknown_one_is_asked(client, shop, trimmed):
    mask = Mask.objects.create(tool=shop.mask)
    Cutter.objects.create(code="R9", kind="cutter")
    for code, state in (("R8", "gone"), ("R12", "here")):
        cutter = Cutter.objects.create(code=code, kind="cutter", state=state)
        Feature.objects.create(mask=mask, kind="edge", method="bearing", cutter=cutter)
    assert client.get(PAGE).context["form"]["cutter"].value() == ["R12"]
    assert "R8 is gone. Which one did you take?" in errors(trimmed())["other_cutter"][0]
    assert "There is no cutter NOPE in the library." in errors(trimmed(other_cutter="nope"))["other_cutter"][0]
    assert trimmed(other_cutter="r9").status_code == 302
    assert used().payload["cutter"] == "R12, R9"
    trimmed(sure="gone R8", serial="0171")
    assert used().payload["cutter"] == "R12"


def test_a_late_cut_that_spoiled_is_shown_before_it_is_written(client, shop):
    late = {"token": str(uuid4()), "outcome": "gouged", "at": "yesterday", "at_time": "10:00"}
    late |= {"serial": "0172", "part": "SK520-DECK"}
    shown = client.post(PAGE, late)
    assert "Not written yet: look what it does first." in shown.text
    assert "Held: a cut was gouged, not looked at yet." in shown.text
    assert 'name="outcome" value="gouged"' in shown.text
    client.post(PAGE, {**late, "shown": shown.context["form"].would.key})
    assert used().at == Entry.objects.get(kind="hold").at


def test_a_station_asks_whose_hands_and_stays_for_the_cross(client, two, trimmed):
    assert errors(trimmed()) == {"by": ["Whose hands were it?"]}
    mara = Person.objects.named("Mara")
    assert trimmed(by=mara.pk, pin="8205").url == "/wall/"
    assert used().by == mara
    assert trimmed("gouged", by=mara.pk, pin="8205").url.endswith("/cross/")
    assert 'href="/wall/"' in client.get(f"/tools/COAM-TRIM/entries/{used().number}/cross/").text


def test_only_a_trim_mask_is_trimmed_with(client):
    assert client.get("/tools/DECK-2A/trimmed/").status_code == 404


def test_the_queries_of_both_pages_do_not_grow_with_the_history(client, shop, trimmed, hand):
    pages = (PAGE, "/tools/COAM-TRIM/check/")
    trimmed()
    deeds.check_edge(shop.mask, points="bow: in", by=hand, recorded_by=hand)
    for page in pages:
        client.get(page)
    before = [asked(client, page) for page in pages]
    for number in range(4):
        happened.log_pull(shop.mold, part="SK520-DECK", serial=f"1{number:03}")
        deeds.trim(shop.mask, part="SK520-DECK", serial=f"0{number:03}", minutes="9", by=hand, recorded_by=hand)
        deeds.check_edge(shop.mask, points="bow: in", by=hand, recorded_by=hand)
    assert [asked(client, page) for page in pages] == before


def asked(client, page):
    with CaptureQueriesContext(connection) as queries:
        client.get(page)
    return len(queries)
