"""Racks: the tree of places, one place, what is seen there, new ones, and one that is changed."""

import contextlib
from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.forms.new_places import meant
from tooling.models import Entry, Kind, Place

pytestmark = pytest.mark.django_db
RACKS, NEW, SHELF = "/racks/", "/racks/new/", "/racks/B-1/"


@pytest.fixture
def rack(morning):
    """A rack of two shelves."""
    whole = Place.objects.create(code="RACK-B", name="Rack B")
    Place.objects.create(code="B-1", name="Rack B, shelf 1", parent=whole, height_mm=450, max_load_kg=120)
    Place.objects.create(code="B-2", name="Rack B, shelf 2", parent=whole)
    return whole


def shelf(code="B-1"):
    return Place.objects.get(code=code)


def lies(client, address):
    return [summary.tool.code for summary in client.get(address).context["page"].object_list]


def test_a_stranger_is_asked_to_sign_in(client, rack):
    for address in (RACKS, SHELF, NEW, "/p/B-1/", "/racks/B-1/change/"):
        assert client.get(address).url == f"/sign-in/?next={address}"


def test_the_tree_has_what_lies_where(sign_in, rack, morning):
    mold("DECK", morning, place=shelf(), mass_kg=52)
    gone = mold("HULL", morning, place=shelf())
    do("move", gone, place=shelf("B-2"), at=ago(hours=2))
    rim = mold("RIM", morning, kind=Kind.INSERT, place=shelf())
    do("install", rim, at=ago(hours=1), mold=gone)
    client = sign_in("reader")
    racks = client.get(RACKS).context["racks"]
    shown = {one.place.code: one for one in racks[0].shelves}
    assert ([one.place.code for one in racks], list(shown)) == (["RACK-B"], ["B-1", "B-2"])
    assert [one.tool.code for one in shown["B-1"].here] == ["DECK"]
    assert (shown["B-1"].count, str(shown["B-1"].load.kg), shown["B-1"].away) == (1, "52", 2)
    assert (shown["B-2"].count, shown["B-2"].load.unweighed, shown["B-2"].load.kg) == (1, 2, 0)
    text = " ".join(client.get(RACKS).text.split())
    assert '1 tool, <span class="nb">52 kg</span> of at most <span class="nb">120 kg</span>.' in text
    assert "2 tools have their home here and lie elsewhere." in text
    assert "home: Rack B, shelf 1" in text
    assert "not here: in HULL" in text
    assert NEW not in text


def test_shelves_stand_from_the_top_and_what_is_on_none_of_them_last(sign_in, rack, morning):
    Place.objects.filter(code="B-2").update(height_mm=1000)
    Place.objects.create(code="HALL", name="Hall")
    Place.objects.update_or_create(code="LOFT", defaults={"name": "Loft", "parent": rack})
    Place.objects.create(code="LOFT-1", name="Loft, box", parent=shelf("LOFT"))
    mold("DECK", morning, place=rack)
    racks = sign_in("reader").get(RACKS).context["racks"]
    assert [[one.place.code, *(inner.place.code for inner in one.shelves)] for one in racks] == [
        ["HALL", "HALL"], ["RACK-B", "B-2", "B-1", "RACK-B"], ["LOFT", "LOFT-1"],
    ]  # fmt: skip
    assert "On none of these" in sign_in("reader").get("/racks/RACK-B/").text


def test_too_much_on_a_shelf_is_said_and_what_is_retired_lies_nowhere(sign_in, rack, morning):
    mold("DECK", morning, place=shelf(), mass_kg=121)
    do("retire", mold("OLD", morning, place=shelf(), mass_kg=50), at=ago(hours=1))
    text = sign_in("reader").get(RACKS).text
    assert "<b>too much</b>" in text
    assert ">OLD<" not in text


def test_a_place_says_what_lies_there_and_what_has_its_home_there(sign_in, rack, morning):
    mold("DECK", morning, place=shelf())
    do("move", mold("TENDER", morning, place=shelf("B-2")), place=shelf(), at=ago(hours=2))
    do("move", mold("LOST", morning, place=shelf(), lift="two on a trolley"), place=None, at=ago(hours=2))
    client = sign_in("hand")
    assert lies(client, SHELF) == ["DECK", "TENDER"]
    text = client.get(SHELF).text
    for words in (
        "Not seen yet: its home is here.",
        "today 05:40",
        "nobody knows where to. Lift: two on a trolley.",
        "height",
    ):
        assert words in text
    assert 'action="/tools/TENDER/home/"' in text
    assert 'href="/tools/LOST/move/">Found: where?' in text
    assert "/tools/DECK/move/" not in text
    assert lies(client, "/racks/RACK-B/") == []
    assert "/tools/TENDER/home/" not in sign_in("reader").get(SHELF).text


def test_its_tag_and_other_case_lead_to_a_place(sign_in, rack):
    client = sign_in("reader")
    assert client.get("/racks/b-1/").url == SHELF
    for address in ("/p/b-1/", "/P/B-1/"):
        assert client.get(address).url.startswith(f"{SHELF}?scanned=B-1")
    for code in ("NONE", "%00", "x" * 300, "a/b"):
        assert client.get(f"/p/{code}/").status_code == 404
    for code in ("NONE", "%00", "x" * 300):
        assert client.get(f"/racks/{code}/").status_code == 404


def test_what_is_scanned_at_a_scanned_place_was_seen_there(sign_in, rack, morning, hand):
    mold("DECK", morning, place=shelf("B-2"))
    client = sign_in("hand")
    scanned = client.get("/p/B-1/").url
    assert "Scan or type the next tag" in client.get(scanned).text
    send = scanned.replace("/?", "/seen/?")
    typed = {"token": str(uuid4()), "at": "now", "tool": "HTTPS://SHOP.EXAMPLE/T/DECK/"}
    for _twice in range(2):
        assert client.post(send, typed).url.startswith(f"{scanned}&count=")
    entry = Entry.objects.get(kind="moved")
    assert (entry.by, entry.payload["place"], entry.payload.get("home")) == (hand, shelf().pk, False)
    assert lies(client, SHELF) == ["DECK"]
    assert entry.tool.summary.home == shelf("B-2")


def test_without_a_scan_nothing_counts_as_seen(sign_in, rack, morning):
    mold("DECK", morning)
    client = sign_in("hand")
    typed = {"token": str(uuid4()), "at": "now", "tool": "DECK"}
    other = client.get("/p/B-2/").url.partition("?")[2]
    late = client.get("/p/B-1/").url.partition("?")[2]
    for query in ("", "scanned=B-1", other, "scanned=%00"):
        assert client.post(f"{SHELF}seen/?{query}", typed).url == SHELF
    with time_machine.travel(NOW + timedelta(minutes=31), tick=False):
        assert client.post(f"{SHELF}seen/?{late}", typed).url == SHELF
    assert not Entry.objects.filter(kind="moved").exists()
    assert client.get(f"{SHELF}seen/").url == SHELF
    assert sign_in("reader").post(f"{SHELF}seen/?{other}", typed).status_code == 403


def test_a_station_sees_without_a_scan_and_says_whose_hands(sign_in, rack, morning, hand):
    mold("DECK", morning)
    client = sign_in("station")
    typed = {"token": str(uuid4()), "at": "now", "tool": "DECK"}
    assert "Whose hands were it?" in client.post(f"{SHELF}seen/", typed).text
    assert not Entry.objects.filter(kind="moved").exists()
    assert client.post(f"{SHELF}seen/", {**typed, "by": hand.pk}).url.startswith(f"{SHELF}?count=")
    assert Entry.objects.get(kind="moved").by == hand


@pytest.mark.parametrize("tool", ["", "NONE", "\x00", "x" * 400, "/", "https://"])
def test_what_no_tag_says_is_refused_at_the_box(sign_in, rack, morning, tool):
    client = sign_in("lead")
    send = client.get("/p/B-1/").url.replace("/?", "/seen/?")
    typed = {"token": str(uuid4()), "at": "now", "tool": tool, "by": client.get(SHELF).context["user"].pk}
    reply = client.post(send, typed)
    assert reply.context["form"].errors["tool"]
    assert not Entry.objects.exists()


def test_a_whole_rack_goes_up_with_one_line_after_it_was_shown(sign_in, morning):
    hall = Place.objects.create(code="HALL", name="Hall")
    client = sign_in("lead")
    typed = {"lines": "rack C, 4 shelves\nloft", "within": hall.pk}
    text = client.post(NEW, {**typed, "do": "show"}).text
    assert "6 new places" in text
    assert "Rack C, shelf 4" in text
    assert Place.objects.count() == 1
    for _twice in range(2):
        reply = client.post(NEW, {**typed, "do": "put-up"})
    assert "There is or was a place C-1, C-2, C-3, C-4, LOFT, RACK-C already." in reply.text
    made = {place.code: (place.name, place.parent and place.parent.code) for place in Place.objects.all()}
    assert made["RACK-C"] == ("Rack C", "HALL")
    assert made["C-4"] == ("Rack C, shelf 4", "RACK-C")
    assert made["LOFT"] == ("Loft", "HALL")
    assert len(made) == 7


@pytest.mark.parametrize(
    ("line", "codes"),
    [
        ("rack C, 2 shelves", ["RACK-C", "C-1", "C-2"]),
        ("C: rack C, 2 arms", ["C", "C-1", "C-2"]),
        ("rack E 2 shelves", ["RACK-E", "E-1", "E-2"]),
        ("rack J, Two shelves", ["RACK-J", "J-1", "J-2"]),
        ("shelf two", ["SHELF-TWO"]),
        ("cell, 1 benches", ["CELL", "CELL-1"]),
        ("Zürich wall, 2 hooks", ["ZURICH-WALL", "ZURICH-1", "ZURICH-2"]),
        ("bench 1", ["BENCH-1"]),
        ("bench 2, 1 drawer", ["BENCH-2", "BENCH-2-1"]),
        ("loft", ["LOFT"]),
        ("Trim wall", ["TRIM-WALL"]),
        ("drawers, 1 drawer", ["DRAWERS", "DRAWERS-1"]),
    ],
)
def test_a_line_is_understood(line, codes):
    assert [place.code for place in meant(line)] == codes


@pytest.mark.parametrize(
    "lines",
    ["", " \n ", ",", "rack C, 100 shelves", "rack D, 0 shelves",
     "ÄÖ: x, 2 y", "日本", "A: B: C", "a\na", "\x00",
     "x" * 3000, "\n".join(f"r{n}" for n in range(60)), "HALL", "rack C, 12 shelves, 3 bays, 2 hooks",
     "rack C, 40 shelves, 20 bays"],
)  # fmt: skip
def test_lines_that_are_not_understood_write_nothing(sign_in, morning, lines):
    Place.objects.create(code="HALL", name="Hall")
    reply = sign_in("lead").post(NEW, {"lines": lines, "do": "put-up"})
    assert reply.status_code == 200
    assert reply.context["form"].errors["lines"]
    assert Place.objects.count() == 1


@given(st.text(max_size=60))
def test_any_line_is_understood_or_refused(line):
    with contextlib.suppress(ValidationError):
        assert meant(line)


def test_only_a_lead_puts_up_and_changes_places(sign_in, rack):
    for role in ("reader", "hand", "station"):
        client = sign_in(role)
        for address in (NEW, f"{SHELF}change/"):
            assert client.get(address).status_code == 403
            assert client.post(address, {"lines": "x", "name": "x"}).status_code == 403
    assert Place.objects.count() == 3


def changed(client, **typed):
    form = client.get(f"{SHELF}change/").context["form"]
    stands = {name: form[name].value() for name in form.fields}
    return client.post(f"{SHELF}change/", {**{k: v for k, v in stands.items() if v is not None}, **typed})


def test_a_place_is_changed_and_twice_is_harmless(sign_in, rack):
    client = sign_in("lead")
    for _twice in range(2):
        assert changed(client, name="Shelf one", height_mm="500,5", parent="").url == SHELF
    place = shelf()
    assert (place.name, str(place.height_mm), place.parent) == ("Shelf one", "500.5", None)


def test_a_loop_is_refused_and_bad_numbers_too(sign_in, rack):
    client = sign_in("lead")
    Place.objects.filter(code="B-2").update(parent=shelf())
    for parent in ("B-1", "B-2"):
        assert changed(client, parent=shelf(parent).pk).context["form"].errors["parent"] == [
            "A place cannot lie within itself."
        ]
    for column, value in (("height_mm", "-1"), ("max_load_kg", "much"), ("name", ""), ("parent", "x")):
        assert changed(client, **{column: value}).context["form"].errors[column]
    assert shelf().parent == rack


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_rows_as_for_one(sign_in, rack, morning, count, django_assert_num_queries):
    for number in range(count):
        Place.objects.create(code=f"S-{number}", name=f"Shelf {number}", parent=shelf())
        do("move", mold(f"M-{number}", morning, place=shelf("B-2")), place=shelf(), at=ago(hours=1))
        mold(f"N-{number}", morning, place=shelf(f"S-{number}"))
    client = sign_in("reader")
    with django_assert_num_queries(10):
        client.get(RACKS)
    with django_assert_num_queries(18):
        client.get(SHELF)
    with django_assert_num_queries(15):
        client.get("/racks/B-2/")
