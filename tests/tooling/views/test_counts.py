"""Counting a shelf by its tags: what is written, whose hands, the way back, and the next shelf."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Entry, Person, Place

pytestmark = [pytest.mark.django_db, pytest.mark.both]
SHELF, TAG = "/racks/B-1/", "HTTPS://SHOP.EXAMPLE/P/B-2/"


@pytest.fixture
def shelves(morning):
    """Two shelves; three tools are at home on the first, one on the other with a part in it."""
    first, other = (Place.objects.create(code=f"B-{n}", name=f"Rack B, shelf {n}") for n in (1, 2))
    for code in ("DECK", "HULL", "SEAT"):
        mold(code, morning, place=first)
    away = mold("TENDER", morning, place=other)
    do("lay_up", away, part="SK520-DECK", at=ago(hours=1))
    return first, other


def scan(client, address, tool, **more):
    """Sends what the page of that address would send; where it leads."""
    path, _, query = address.partition("?")
    typed = {"token": str(uuid4()), "at": "now", "tool": tool, **more}
    return client.post(f"{path}seen/?{query}", typed)


def moved():
    return [(one.tool.code, one.payload["place"]) for one in Entry.objects.filter(kind="moved").order_by("pk")]


def test_what_was_just_seen_is_rubbed_out_on_the_shelf_itself(sign_in, shelves):
    client = sign_in("hand")
    address = scan(client, client.get("/p/B-1/").url, "TENDER").url
    page = client.get(address)
    assert page.context["seen_words"] == (
        "Seen: TENDER, Rack B, shelf 1. Its home is Rack B, shelf 2. By its history a part is in it. Part SK520-DECK."
    )
    undo = f"/tools/TENDER/entries/{page.context['written'].entry.number}/rub-out/"
    assert undo in page.text
    back = {"token": str(uuid4()), "back": page.context["back"]}
    assert client.post(undo, back).url == page.context["back"]
    after = client.get(back["back"])
    assert "Rubbed out" in after.text
    assert "seen_words" not in after.context
    assert client.post(undo, {**back, "back": "https://else.example/"}).url == "/tools/TENDER/"
    assert client.post(undo, {**back, "back": "//else.example/"}).url == "/tools/TENDER/"


def test_the_tag_of_another_place_takes_the_count_there(sign_in, shelves):
    client = sign_in("hand")
    address = scan(client, client.get("/p/B-1/").url, "DECK").url
    there = scan(client, address, TAG).url
    assert there.startswith("/racks/B-2/?scanned=B-2")
    assert "Now at Rack B, shelf 2: what is scanned next was seen there." in client.get(there).text
    scan(client, there, "HULL")
    assert moved() == [("DECK", shelves[0].pk), ("HULL", shelves[1].pk)]


def test_a_place_is_taken_before_any_hands_are_asked_and_after_its_own_scan_is_too_old(sign_in, shelves):
    assert scan(sign_in("station"), SHELF, TAG).url.startswith("/racks/B-2/")
    assert scan(sign_in("hand"), SHELF, TAG).url.startswith("/racks/B-2/?scanned=B-2")
    assert moved() == []


def test_what_nobody_knows_is_said_and_stays_in_the_box(sign_in, shelves):
    page = scan(sign_in("station"), SHELF, "https://shop.example/t/NONE/")
    assert page.context["form"].errors["tool"] == ["There is no tool NONE."]
    assert page.context["form"]["tool"].value() == "https://shop.example/t/NONE/"
    assert " autofocus" in str(page.context["form"]["tool"])


def test_at_a_station_the_hands_stay_for_this_count_and_no_longer(sign_in, shelves, hand):
    client = sign_in("station")
    address = scan(client, SHELF, "DECK", by=hand.pk).url
    page = client.get(address)
    assert page.context["counting"] == hand
    assert f"{hand.name} counts." in page.text
    address = scan(client, address, "HULL").url
    address = scan(client, address, TAG).url
    address = scan(client, address, "SEAT").url
    assert [entry.by for entry in Entry.objects.filter(kind="moved")] == [hand] * 3
    assert client.get(SHELF).context.get("counting") is None
    assert client.get(client.get(address).context["other_hands"]).context["counting"] is None
    with time_machine.travel(NOW + timedelta(minutes=11), tick=False):
        assert client.get(address).context["counting"] is None
        assert "Whose hands were it?" in scan(client, address, "TENDER").text
    Person.objects.filter(pk=hand.pk).update(is_active=False)
    assert "Whose hands were it?" in scan(client, address, "TENDER").text
    assert len(moved()) == 3


def test_a_tag_that_a_phone_opens_after_that_of_a_place_offers_to_say_seen(sign_in, shelves):
    client = sign_in("lead")
    client.get("/p/B-2/")
    with time_machine.travel(NOW + timedelta(minutes=4), tick=False):  # else the two tags move it
        page = client.get(client.get("/t/hull/").url)
    met = page.context["met"]
    assert "Seen at B-2 (Rack B, shelf 2)" in page.text
    assert "Seen at" not in client.get("/tools/HULL/").text
    sent = {"token": str(met.token), "tool": "HULL", "then": "tool", "by": page.context["user"].pk}
    for _twice in range(2):
        assert scan(client, f"/racks/B-2/?scanned={met.proof}", **sent).url == "/tools/HULL/"
    assert moved() == [("HULL", shelves[1].pk)]
    places = client.get("/tools/DECK/move/").context["form"].fields["place"]
    assert [place.code for place in places.queryset] == ["B-2", "B-1"]
    assert "Rack B, shelf 2" in places.help_text
    with time_machine.travel(NOW + timedelta(minutes=31), tick=False):
        assert client.get("/t/HULL/").url == "/tools/HULL/"
        assert client.get(f"/tools/HULL/?scanned={met.proof}").context["met"] is None


@pytest.mark.parametrize("role", ["reader", "station"])
def test_who_writes_nothing_or_is_nobody_alone_is_offered_nothing(sign_in, shelves, role):
    client = sign_in(role)
    scanned = client.get("/p/B-2/").url.partition("?")[2]
    assert client.get("/t/HULL/").url == "/tools/HULL/"
    assert client.get(f"/tools/HULL/?{scanned}").context["met"] is None
    assert client.get(f"{SHELF}?count=nonsense").status_code == 200


def test_in_find_the_tag_of_a_place_opens_it_and_what_is_empty_leaves_the_address(sign_in, shelves):
    client = sign_in("hand")
    reply = client.get("/tools/", {"q": TAG, "go": "1", "kind": ""}, follow=True)
    assert reply.redirect_chain[-1][0].startswith("/racks/B-2/?scanned=B-2")
    assert client.get("/tools/", {"q": "zzz", "go": "1", "kind": "", "part": ""}).url == "/tools/?q=zzz"
    assert client.get("/tools/", {"q": "B-2", "go": "1"}).status_code == 200
