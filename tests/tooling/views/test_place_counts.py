"""The pages of counts: tag after tag, whose hands, what is mended with one tap, and how a count ends."""

import re
from datetime import date, timedelta
from uuid import uuid4

import pytest
import time_machine

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import CountMark, Entry, Place, PlaceCount

pytestmark = pytest.mark.django_db
HERE = "/counts/1/"


@pytest.fixture
def rack(morning):
    """DECK, HULL and SEAT are at home on the first of two shelves; T-LOCK in another rack."""
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    first, second = (Place.objects.create(code=f"B-{n}", name=f"Shelf {n}", parent=rack) for n in (1, 2))
    rack.first, rack.second = first, second
    rack.other = Place.objects.create(code="C-1", name="Rack C, shelf 1")
    for code, place in (("DECK", first), ("HULL", first), ("SEAT", first), ("T-LOCK", rack.other)):
        mold(code, morning, pulls=None, place=place)
    return rack


@pytest.fixture
def hand_client(sign_in, rack):
    client = sign_in("hand")
    assert begin(client).url == HERE
    return client


def begin(client, code="RACK-B", **more):
    return client.post(f"/racks/{code}/count/", {"token": str(uuid4()), "at": "now", **more})


def scan(client, tag, address=HERE, **more):
    return client.post(address, {"token": str(uuid4()), "at": "now", "tag": tag, **more})


def tap(client, do, address=HERE, **more):
    path, _, query = address.partition("?")
    return client.post(f"{path}mend/?{query}", {"token": str(uuid4()), "at": "now", "do": do, **more})


def says(client, address=HERE):
    page = client.get(address)
    assert page.status_code == 200
    opening = page.context["opening"]
    return f"{opening.head} {opening.figure} {opening.rest}"


def moved():
    return [(one.tool.code, one.payload.get("place")) for one in Entry.objects.filter(kind="moved").order_by("pk")]


def test_tag_after_tag_with_the_shelf_that_was_scanned(hand_client, rack):
    assert says(hand_client) == "Being counted: 0 of 3 seen. Three not met yet."
    address = scan(hand_client, "https://shop.example/P/B-2/").url
    assert address == "/counts/1/?at=B-2"
    assert "At Shelf 2: what is scanned next was seen there." in hand_client.get(address).text
    address = scan(hand_client, "deck", address).url
    page = hand_client.get(address)
    assert page.context["seen_words"] == "Seen: DECK, Shelf 2. Its home is Shelf 1."
    assert page.context["shelf"] == rack.second
    scan(hand_client, "HTTPS://SHOP.EXAMPLE/T/HULL/")
    assert moved() == [("DECK", rack.second.pk), ("HULL", rack.first.pk)]
    assert says(hand_client) == "Being counted: 2 of 3 seen. One not met yet, one whose home is elsewhere."


def test_what_is_seen_on_the_page_of_the_shelf_by_who_counts_is_met_in_the_count(hand_client):
    there = hand_client.get("/p/B-1/").url
    hand_client.post(there.replace("/?", "/seen/?"), {"token": str(uuid4()), "at": "now", "tool": "DECK"})
    assert Entry.objects.latest("pk").payload["counted"] == 1
    assert "1 of 3 seen" in says(hand_client)


def test_what_was_seen_is_rubbed_out_on_the_page(hand_client):
    page = hand_client.get(scan(hand_client, "DECK").url)
    number, back = page.context["written"].entry.number, page.context["back"]
    undone = hand_client.post(f"/tools/DECK/entries/{number}/rub-out/", {"token": str(uuid4()), "back": back})
    assert undone.url == back
    assert "written" not in hand_client.get(back).context
    assert "0 of 3" in says(hand_client)


def test_a_tag_of_another_rack_and_no_tag_are_refused_in_words_and_stay_in_the_box(hand_client):
    page = scan(hand_client, "C-1")
    assert page.context["form"].errors["tag"] == ["Rack C, shelf 1 is no part of Rack B. Count it by itself."]
    assert page.context["form"]["tag"].value() == "C-1"
    assert scan(hand_client, " ").context["form"].errors["tag"] == ["Scan or type a tag."]
    assert moved() == []


def test_an_unknown_tag_is_kept_put_aside_and_rubbed_out(hand_client):
    for text in ("old-1", "old-2"):
        scan(hand_client, text)
    assert "two tags that nobody knows" in says(hand_client)
    first, second = CountMark.objects.filter(found="unknown")
    tap(hand_client, f"aside.{first.pk}")
    tap(hand_client, f"forget.{second.pk}")
    first.refresh_from_db()
    assert (first.settled, CountMark.objects.filter(found="unknown").count()) == (True, 1)
    assert tap(hand_client, f"this.{first.pk}", tool="DECK").status_code == 403
    tap(hand_client, f"again.{first.pk}")
    assert "one tag that nobody knows" in says(hand_client)


def test_a_lead_says_which_tool_a_tag_is(sign_in, rack):
    client = sign_in("lead")
    begin(client)
    scan(client, "old deck")
    mark = CountMark.objects.get()
    assert "Which tool is it?" in client.get(tap(client, f"this.{mark.pk}").url).text
    assert "There is no tool NONE." in client.get(tap(client, f"this.{mark.pk}", tool="NONE").url).text
    page = client.get(tap(client, f"this.{mark.pk}", tool="DECK").url)
    assert "DECK is found by “old deck” from now on." in page.text
    assert "1 of 3 seen" in page.text
    assert client.get("/tools/", {"q": "old deck", "go": "1"}).url == "/tools/DECK/"


def test_one_whose_home_is_elsewhere_is_taken_there_or_is_at_home_here_from_now_on(sign_in, rack):
    client = sign_in("lead")
    begin(client)
    scan(client, "T-LOCK")
    assert [row[1] for row in client.get(HERE).context["lines"].elsewhere] == ["Home is Rack C, shelf 1."]
    tap(client, "home.T-LOCK")
    assert moved()[-1] == ("T-LOCK", rack.other.pk)
    scan(client, "T-LOCK", "/counts/1/?at=B-1")
    tap(client, "here.T-LOCK")
    assert Entry.objects.latest("pk").payload | {"asked": ""} == {
        "place": rack.first.pk, "home": True, "seen": False, "asked": ""
    }  # fmt: skip
    assert "home is elsewhere" not in says(client)


def test_taken_home_where_that_is_too_much_it_asks_first(hand_client, rack):
    Place.objects.filter(pk=rack.other.pk).update(max_load_kg=5)
    rack.other.at_home.get().tool.__class__.objects.filter(code="T-LOCK").update(mass_kg=9)
    scan(hand_client, "T-LOCK")
    assert tap(hand_client, "home.T-LOCK").url == "/tools/T-LOCK/move/?to=C-1"
    assert tap(hand_client, "here.T-LOCK").status_code == 403


def test_after_its_end_what_to_mend_stands_apart_and_what_was_found_stays(hand_client, rack):
    scan(hand_client, "T-LOCK", "/counts/1/?at=B-1")
    tap(hand_client, "end.3")
    assert says(hand_client) == "Counted: 0 of 3 seen. Three not met, one whose home is elsewhere."
    lines = hand_client.get(HERE).context["lines"]
    assert lines.unseen == "Three were not seen since."
    assert [row[1:] for row in lines.today] == [("Last seen: Shelf 1, today 07:40. Home is Rack C, shelf 1.", True)]
    with time_machine.travel(NOW + timedelta(minutes=1), tick=False):
        tap(hand_client, "home.T-LOCK")
        page = hand_client.get(HERE)
        assert "one whose home is elsewhere" in says(hand_client)
    assert page.context["lines"].today[-1][1:] == ("It is at home: Rack C, shelf 1, today 07:41.", False)
    assert "home.T-LOCK" not in page.text


def test_a_part_in_it_is_asked_about_and_a_loan_is_over_when_it_is_seen(hand_client, rack):
    lock = rack.other.at_home.get().tool
    do("lend", lock, person="Yard", at=ago(hours=2))
    page = hand_client.get(scan(hand_client, "T-LOCK").url)
    assert "It was lent to Yard: this hands it back." in page.context["seen_words"]
    assert "No words for the lift yet: ask the lead." in page.text
    do("lay_up", lock, at=ago(hours=1), part="P-1")
    assert tap(hand_client, "home.T-LOCK").url == "/tools/T-LOCK/move/?to=C-1"


def test_what_was_lent_and_is_met_is_said_to_be_handed_back_with_it(hand_client, rack):
    seat = rack.first.at_home.get(tool__code="SEAT").tool
    do("lend", seat, person="Yard", until=date(2026, 5, 20), at=ago(hours=1))
    page = hand_client.get(scan(hand_client, "SEAT").url)
    assert page.context["seen_words"] == "Seen: SEAT, Shelf 1. It was lent to Yard: this hands it back."
    assert [row[1] for row in page.context["lines"].handed_back] == [
        "It was lent to Yard until 20 May 2026: seen here, it is handed back."
    ]
    history = hand_client.get("/tools/SEAT/").text
    assert "It was lent to Yard: this hands it back." in re.sub(r"<[^>]+>", "", history)


def test_missing_at_once_then_the_end_and_back_within_five_minutes(hand_client, rack):
    do("lend", rack.first.at_home.get(tool__code="HULL").tool, person="Yard", until=date(2026, 5, 20), at=ago(hours=1))
    scan(hand_client, "DECK")
    page = hand_client.get(tap(hand_client, "missing.SEAT").url)
    assert page.context["seen_words"] == "SEAT: Not met in the count of Rack B."
    lines = page.context["lines"]
    assert [row[1] for row in lines.excused] == ["Lent to Yard until 20 May: not missing."]
    tap(hand_client, "end")
    assert says(hand_client) == "Counted: 1 of 2 seen. One not met."
    assert "This count is ended" in hand_client.get(tap(hand_client, "missing.SEAT").url).text
    tap(hand_client, "go-on")
    assert says(hand_client) == "Being counted: 1 of 3 seen. One not met yet."
    tap(hand_client, "give-up")
    assert says(hand_client).startswith("Given up: 1 seen.")


def test_in_the_history_of_the_tool_and_in_the_list_of_all(hand_client, sign_in):
    scan(hand_client, "DECK")
    reader = sign_in("reader")
    history = re.sub(r"<[^>]+>", "", reader.get("/tools/DECK/").text)
    assert "Seen at Shelf 1 in the count of Rack B" in history
    assert 'href="/counts/1/"' in reader.get("/tools/DECK/").text
    assert "1 seen." in reader.get("/counts/").text
    with time_machine.travel(NOW + timedelta(hours=2), tick=False):
        assert "Broken off" in reader.get("/counts/").text
        assert "Nothing was scanned for an hour" in reader.get(HERE).text
    assert reader.get(HERE).context["form"] is None
    assert scan(reader, "HULL").status_code == 403


def test_a_place_that_is_being_counted_goes_on(hand_client, rack):
    assert "Go on with the count of Rack B" in hand_client.get("/racks/RACK-B/").text
    assert "It is part of Rack B, which is being counted as a whole." in re.sub(
        r"\s+", " ", hand_client.get("/racks/B-1/").text
    )
    assert begin(hand_client, "B-1").url == "/counts/1/?at=B-1"
    Place.objects.filter(pk=rack.pk).update(parent=Place.objects.create(code="HALL", name="Hall"))
    assert begin(hand_client, "HALL").url == "/racks/HALL/"
    assert PlaceCount.objects.count() == 1


def test_at_a_station_the_hands_are_asked_once_and_nothing_is_tapped_before(sign_in, rack, hand):
    client = sign_in("station")
    asked = begin(client).text
    assert "Whose hands?" in asked
    assert "Not written" not in asked
    assert "Choose one of the names." in begin(client, by=0).text
    assert not PlaceCount.objects.exists()
    address = begin(client, by=hand.pk).url
    assert PlaceCount.objects.get().begun_by == hand
    assert f"{hand.name} counts." in client.get(address).text
    assert "Whose hands were it?" in scan(client, "DECK").text
    assert "The count is done" not in client.get(HERE).text
    tap(client, "end")
    assert PlaceCount.objects.get().ended_at is None
    address = scan(client, "DECK", by=hand.pk).url
    address = scan(client, "B-1", address).url
    assert f"{hand.name} counts." in client.get(address).text
    address = scan(client, "HULL", address).url
    assert [entry.by for entry in Entry.objects.filter(kind="moved")] == [hand] * 2
    tap(client, "end", address)
    assert PlaceCount.objects.get().ended_by == hand
    with time_machine.travel(NOW + timedelta(minutes=11), tick=False):
        assert client.get(address).context["counting"] is None


def test_twice_is_harmless_and_a_number_that_is_none_is_not_found(hand_client):
    token = str(uuid4())
    for _twice in range(2):
        hand_client.post(HERE, {"token": token, "at": "now", "tag": "DECK"})
        hand_client.post(f"{HERE}mend/", {"token": token, "at": "now", "do": "missing.SEAT"})
    assert len(moved()) == 2
    assert hand_client.get("/counts/9/").status_code == 404
    assert hand_client.get("/counts/1/?on=nonsense&at=%00").status_code == 200
    assert "Tap one of the buttons" in hand_client.get(tap(hand_client, "dance.DECK").url).text
