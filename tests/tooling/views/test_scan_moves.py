"""A tool is moved by two scans: typed into one box, or tag after tag with the camera of a phone, in both orders."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import CountMark, Entry, Person, Place
from tooling.services import pins, place_counts

pytestmark = pytest.mark.django_db
MOVE = "/move/"


@pytest.fixture
def shelf(morning):
    """Two molds at home on one shelf, and another shelf that carries little."""
    home = Place.objects.create(code="B-1", name="Shelf 1")
    for code in ("DECK", "HULL"):
        mold(code, morning, place=home, mass_kg=30)
    return Place.objects.create(code="B-2", name="Shelf 2", max_load_kg=40)


@pytest.fixture
def phone(client, hand, shelf):
    client.force_login(hand, backend="shared.access.RoleBackend")
    return client


def scan(client, address, text, **more):
    """Where the page leads, or the page that says what is wrong."""
    reply = client.post(address, {"token": str(uuid4()), "at": "now", "text": text, **more})
    return reply.url if reply.status_code == 302 else reply


def moved():
    return [(one.tool.code, one.payload["place"]) for one in Entry.objects.filter(kind="moved").order_by("pk")]


@pytest.mark.parametrize("order", [("DECK", "HTTP://X/P/B-2/"), ("b-2", "http://x/t/deck/")])
def test_two_scans_move_it_in_both_orders_and_the_tool_is_used_up(phone, shelf, order):
    address = MOVE
    for text in order:
        assert moved() == []
        address = scan(phone, address, text)
    assert moved() == [("DECK", shelf.pk)]
    page = phone.get(address)
    assert "DECK is at Shelf 2 now. Its home is Shelf 1." in page.text
    assert "</b> Mass: 30 kg. No words for the lift yet: ask the lead." in page.text
    assert page.context["waits_tools"] == []
    written = page.context["strips"][0][0]
    undo = f"/tools/DECK/entries/{written.entry.number}/rub-out/"
    assert phone.post(undo, {"token": str(uuid4()), "back": address}).url == address
    assert "is at Shelf 2" not in phone.get(address).text


def test_several_tools_are_read_and_all_go_to_the_place_that_is_then_used_up(phone, shelf):
    lies = Place.objects.create(code="C-1", name="Floor")
    address = MOVE
    for text in ("DECK", "HULL", "deck", "C-1"):
        address = scan(phone, address, text)
    assert moved() == [("DECK", lies.pk), ("HULL", lies.pk)]
    page = phone.get(address)
    assert "2 tools are at Floor now." in page.text
    assert [one[0].entry.tool.code for one in page.context["strips"]] == ["DECK", "HULL"]
    assert "Shelf 2</b> is read" in phone.get(scan(phone, address, "B-2")).text
    assert len(moved()) == 2


def test_a_place_stays_for_tool_after_tool_until_the_next_place(phone, shelf):
    lies = Place.objects.create(code="C-1", name="Floor")
    address = MOVE
    for text in ("C-1", "DECK", "HULL", "B-2", "DECK"):
        address = scan(phone, address, text)
    assert moved() == [("DECK", lies.pk), ("HULL", lies.pk), ("DECK", shelf.pk)]
    page = phone.get(address)
    assert "Shelf 2</b> is read: every tool that is scanned now is put there" in page.text
    undo = f"/tools/DECK/entries/{page.context['strips'][0][0].entry.number}/rub-out/"
    page = phone.get(phone.post(undo, {"token": str(uuid4()), "back": page.context["back"]}).url)
    assert page.context["waits_place"] == shelf
    assert "HULL</b> is read" in phone.get(scan(phone, page.context["anew"], "HULL")).text.replace("</span>", "")


def test_what_was_read_too_long_ago_is_named_and_not_moved(phone, shelf):
    address = scan(phone, MOVE, "DECK")
    with time_machine.travel(NOW + timedelta(minutes=11), tick=False):
        for shown in (phone.get(address), phone.get(scan(phone, address, "B-2"))):
            assert "Read too long ago, so nothing was moved with it: <b>DECK</b>." in shown.text
        assert "Shelf 2</b> is read" in shown.text
    assert moved() == []


def test_what_speaks_against_another_place_is_asked_anew(phone, shelf):
    Place.objects.create(code="C-1", name="Hook", max_load_kg=10)
    do("move", mold("HEAVY", None, pulls=None, mass_kg=20), place=shelf, at=ago(hours=2))
    address = scan(phone, MOVE, "DECK")
    answer = scan(phone, address, "B-2").context["form"].asks
    assert "Hook would carry 30 kg" in scan(phone, address, "C-1", anyway=answer).text
    page = "/tools/DECK/move/?to=B-2"
    sent = {"token": str(uuid4()), "at": "now", "anyway": phone.get(page).context["form"].asks}
    assert phone.post(page, {**sent, "place": Place.objects.get(code="C-1").pk}).status_code == 200
    assert len(moved()) == 1
    assert phone.post(page, {**sent, "place": shelf.pk}).status_code == 302
    assert moved()[1:] == [("DECK", shelf.pk)]


def test_what_nobody_knows_is_said_and_stays_and_twice_is_once(phone, shelf):
    wrong = scan(phone, MOVE, "NOPE")
    assert "There is no tool and no place NOPE." in wrong.text
    assert 'value="NOPE"' in wrong.text
    address, token = scan(phone, MOVE, "DECK"), str(uuid4())
    for _twice in range(2):
        scan(phone, address, "B-2", token=token)
    assert moved() == [("DECK", shelf.pk)]


def test_a_limit_that_is_passed_and_a_part_that_cures_are_asked_about(phone, shelf):
    do("move", mold("HEAVY", None, pulls=None, mass_kg=20), place=shelf, at=ago(hours=2))
    do("lay_up", mold("BUSY", None, pulls=None, mass_kg=1), at=ago(hours=1), part="SK520")
    asked = {"DECK": "Shelf 2 would carry 50 kg, and 40 kg is its limit.", "BUSY": "By its history a part is in it."}
    for code, words in asked.items():
        address, before = scan(phone, MOVE, code), len(moved())
        assert scan(phone, address, "B-2").text.count(words) == 1
        by_page = phone.post(f"/tools/{code}/move/", {"token": str(uuid4()), "at": "now", "place": shelf.pk})
        assert words in by_page.text
        assert "Tools are heavy and awkward: the shop’s own words for the lift" in by_page.text
        assert "Put it there all the same" in by_page.text
        assert len(moved()) == before
    assert "it may slip or come loose, and its mass is not in the number" in by_page.text
    scan(phone, address, "B-2", anyway=scan(phone, address, "B-2").context["form"].asks)
    assert moved()[-1] == ("BUSY", shelf.pk)


def test_of_a_part_in_it_is_said_until_when_and_where_its_other_half_stays(phone, shelf, morning):
    for code, place in (("FIN-L", "B-1"), ("FIN-R", "B-2")):
        tool = mold(code, morning, matched_set="fin", place=Place.objects.get(code=place))
        do("lay_up", tool, at=ago(hours=1), part="FIN", serial="7", earliest_pull=NOW + timedelta(hours=9))
    asked = scan(phone, scan(phone, MOVE, "FIN-L"), "B-2").text
    assert "By its history a part is in it, not to come off before today 16:40. Part FIN, serial 7." in asked
    assert "FIN-R has the same part" not in asked  # it lies there already
    Place.objects.create(code="C-1", name="Floor")
    assert (
        "FIN-R has the same part in it, and stays where it is: Shelf 2." in phone.get("/tools/FIN-L/move/?to=C-1").text
    )
    both = scan(phone, scan(phone, scan(phone, MOVE, "FIN-L"), "FIN-R"), "C-1").text
    assert "FIN-R: By its history a part is in it" in both
    assert "has the same part" not in both


def test_put_back_asks_first_where_the_home_would_carry_too_much(phone, shelf):
    do(
        "move",
        mold("BIG", None, pulls=None, mass_kg=90, place=shelf),
        place=Place.objects.get(code="B-1"),
        at=ago(hours=1),
    )
    reply = phone.post("/tools/BIG/home/", {"token": str(uuid4()), "place": "B-2"})
    assert reply.url == "/tools/BIG/move/?to=B-2"
    assert "Shelf 2 would carry 90 kg" in phone.get(reply.url).text
    assert len(moved()) == 1


def pair(client, *tags):
    for tag in tags:
        address = client.get(tag).url
    return address


@pytest.mark.parametrize("tags", [("/t/DECK/", "/P/B-2/"), ("/p/b-2/", "/T/deck/")])
def test_two_tags_opened_with_a_camera_make_a_page_that_sends_itself(phone, shelf, tags):
    do("lend", Entry.objects.filter(tool__code="DECK").first().tool, person="The yard", at=ago(hours=1))
    address = pair(phone, *tags)
    page = phone.get(address)
    assert "data-at-once" in page.text
    assert moved() == []
    token = page.context["form"]["token"].value()
    for _twice in range(2):
        assert phone.post(address, {"token": token, "at": "now"}).url == "/tools/DECK/"
    assert moved() == [("DECK", shelf.pk)]
    text = phone.get("/tools/DECK/").text
    assert "It was lent to The yard: this hands it back." in text
    assert "Rub it out" in text
    assert not pair(phone, "/p/B-1/").startswith(MOVE)  # neither is used for a second time
    assert phone.get(address).context["form"]["token"].value() == token


@pytest.mark.parametrize("tags", [("/t/DECK/", "/p/B-2/"), ("/p/B-2/", "/t/DECK/")])
def test_opening_a_tag_writes_nothing_and_whoever_only_looks_uses_no_pair_up(phone, shelf, tags):
    with CaptureQueriesContext(connection) as asked:
        phone.get(tags[0])
        phone.head(tags[1])
        phone.head("/t/HULL/")
        assert pair(phone, tags[1]).startswith(MOVE)
    assert not [one["sql"] for one in asked if not one["sql"].startswith("SELECT")]


def test_a_camera_asks_before_a_limit_is_passed_and_forgets_after_three_minutes(phone, shelf):
    Place.objects.filter(pk=shelf.pk).update(max_load_kg=10)
    address = pair(phone, "/t/DECK/", "/p/B-2/")
    page = phone.get(address)
    assert "data-at-once" not in page.text
    assert "Put it there all the same" in page.text
    token = page.context["form"]["token"].value()
    assert phone.post(address, {"token": token, "at": "now"}).status_code == 200
    assert moved() == []
    with time_machine.travel(NOW + timedelta(minutes=4), tick=False):
        assert phone.get(address).url == MOVE
        pair(phone, "/t/HULL/")
    with time_machine.travel(NOW + timedelta(minutes=8), tick=False):
        assert not pair(phone, "/p/B-2/").startswith(MOVE)


def test_in_a_count_what_is_scanned_is_met(phone, hand, shelf):
    count, mine = place_counts.begin(shelf, by=hand), Place.objects.get(code="B-1")
    for tags in (("/t/DECK/", "/p/B-2/", "/t/DECK/"), ("/t/HULL/",)):
        address = pair(phone, *tags)
        page = phone.get(address)
        form = page.context["form"]
        assert "Shelf 2 is being counted." in page.text
        phone.post(address, {"token": form["token"].value(), "at": "now", "anyway": form.asks})
    assert [(one.tool.code, one.count) for one in CountMark.objects.order_by("pk")] == [
        ("DECK", count),
        ("HULL", count),
    ]
    place_counts.end(count, by=hand, recorded_by=hand)
    place_counts.begin(mine, by=hand)
    mold("SEAT", None, pulls=None, place=mine)
    address = pair(phone, "/t/SEAT/")  # no tag of a place: it is met at its home, which is being counted
    assert "SEAT" in phone.get(address).text
    assert phone.get(address).context["place"] == mine


def test_a_station_is_asked_whose_hands_and_pairs_no_tags(client, station, shelf):
    mara = Person.objects.named("Mara")
    pins.set_pin(mara, pin="8205")
    client.force_login(station)
    assert not pair(client, "/t/DECK/", "/p/B-2/").startswith(MOVE)
    assert "Whose hands were it?" in scan(client, MOVE, "DECK").text
    address = scan(client, MOVE, "DECK", by=mara.pk, pin="8205")
    assert "Mara moves." in client.get(address).text
    address = scan(client, address, "B-2")
    assert Entry.objects.get(kind="moved").by == mara
    assert scan(client, address, "HULL").startswith(MOVE)


def test_a_reader_moves_nothing_and_a_pair_is_of_one_person(client, reader, phone, shelf, lead):
    address = pair(phone, "/t/DECK/", "/p/B-2/")
    phone.force_login(lead, backend="shared.access.RoleBackend")
    assert phone.get(address).url == MOVE
    assert phone.get(f"{MOVE}?pair=x").url == MOVE
    assert phone.get(f"{MOVE}?read=x").status_code == 200
    phone.force_login(reader, backend="shared.access.RoleBackend")
    assert phone.get(MOVE).status_code == 403
    assert not pair(phone, "/t/DECK/", "/p/B-2/").startswith(MOVE)
