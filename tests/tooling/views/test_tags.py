"""Tags on the screen: the list, choosing, the stock, the address, printing, and the way back."""

import io
import re
import threading

import pytest
from pypdf import PdfReader

from shared import libraries
from tests.shared.paper.needs import pango
from tests.tooling.views.works import ago, do, mold
from tooling.models import Job, Person, Place, Shop, Summary, TagPrint, TagRun, Tool
from tooling.services.jobs.working import work
from tooling.services.tags import run as service

pytestmark = [
    pytest.mark.django_db,
    pango,
]
PRINT = "/tags/print/"
LABELS = {"do": "print", "stock": "label", "gates": "yes"}


@pytest.fixture(autouse=True)
def site(settings, tmp_path):
    settings.SITE_URL = "http://shop.lan:8000"
    settings.DATA_DIR = tmp_path
    return settings


@pytest.fixture
def rack(morning):
    place = Place.objects.create(code="A", name="Rack A")
    for code in ("DECK-2A", "HULL520", "WING4"):
        mold(code, morning, pulls=None, place=place if code != "WING4" else None)
    return place


def printed(reply, client):
    """The text of the file that came of it."""
    assert reply.status_code == 302, reply.context and reply.context["form"].errors
    run = TagRun.objects.first()
    assert reply.url == f"/tags/prints/{run.pk}/"
    file = client.get(f"{reply.url}tags.pdf")
    assert file["Content-Type"] == "application/pdf"
    assert file["Content-Disposition"].startswith("inline")
    return [page.extract_text() for page in PdfReader(io.BytesIO(b"".join(file.streaming_content))).pages]


def test_the_list_says_why_and_a_printed_tool_leaves_it(sign_in, rack):
    client = sign_in("hand")
    assert client.get("/tags/").text.count("it never had a tag") == 3
    pages = printed(client.post(f"{PRINT}?tool=DECK-2A&tool=WING4", LABELS), client)
    assert [("DECK-2A" in page, "WING4" in page) for page in pages] == [(True, False), (False, True)]
    listed = client.get("/tags/").text
    assert (listed.count("it never had a tag"), "HULL520" in listed) == (1, True)


@pytest.mark.parametrize(
    ("asked", "codes"),
    [
        ("codes=hull520,wing4", {"HULL520", "WING4"}),
        ("codes=http%3A%2F%2Fold.lan%2FT%2FWING4%2F", {"WING4"}),
        ("of=find&q=deck", {"DECK-2A"}),
        ("of=home&at=a", {"DECK-2A", "HULL520"}),
        ("of=places", {"A"}),
        ("place=A&tool=WING4", {"A", "WING4"}),
    ],
)
def test_what_an_address_chooses(sign_in, rack, asked, codes):
    page = sign_in("reader").get(f"{PRINT}?{asked}")
    assert set(re.findall(r"Tag of ([A-Z0-9-]+)", page.text)) == codes
    assert 'name="do"' not in page.text


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("codes=NOWHERE", "There is no tool and no place NOWHERE"),
        ("place=NOWHERE", "There is no place NOWHERE"),
        ("of=home&at=NOWHERE", "There is no place NOWHERE"),
        ("of=find&kind=spaceship", "The search cannot be read"),
        ("codes=" + ",".join(f"C{n}" for n in range(10_000)), "At most 200 codes"),
        ("tool=%00&of=%00", "0 tags"),
    ],
)
def test_what_cannot_be_chosen_is_said(sign_in, rack, asked, said):
    client = sign_in("lead")
    assert said in client.get(f"{PRINT}?{asked}").text
    assert "Nothing is chosen" in client.post(f"{PRINT}?{asked}", LABELS).text
    assert not TagRun.objects.exists()


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"stock": "a4-sheet", "start": "99"}, "places 1 to"),
        ({"stock": "a4-sheet", "start": "first"}, "1 is at the top left"),
        ({"stock": "stone"}, "Choose one of these"),
        ({"stock": "custom"}, "how wide and how high"),
        ({"stock": "custom", "wide": "90", "high": "wide"}, "is no number"),
        ({"stock": "custom", "wide": "0", "high": "50"}, "from 20 mm to 300 mm"),
        ({"stock": "custom", "wide": "-90", "high": "50"}, "0 or more"),
        ({"stock": "custom", "wide": "1000000", "high": "50"}, "from 20 mm to 300 mm"),
        ({"stock": "custom", "wide": "20", "high": "20"}, "20 × 20 mm"),
        ({"stock": "a4-sheet", "wide": "250", "high": "60"}, "does not fit on the sheet"),
    ],
)
def test_nonsense_is_said_and_nothing_typed_is_lost(sign_in, rack, sent, said):
    page = sign_in("hand").post(f"{PRINT}?tool=DECK-2A", {"do": "print", "gates": "no", **sent})
    assert (page.status_code, said in page.text) == (200, True)
    for name in ("wide", "high"):
        assert f'value="{sent[name]}"' in page.text if name in sent else True
    assert not TagRun.objects.exists()


def test_inches_and_a_sheet_that_was_begun(sign_in, rack):
    client = sign_in("hand", units="us")
    sent = {"do": "print", "stock": "letter-sheet", "wide": "3 1/2", "high": "2", "start": "3", "cut_marks": "on"}
    pages = printed(client.post(f"{PRINT}?of=list", sent), client)
    assert len(pages) == 1
    again = client.get(f"{PRINT}?tool=DECK-2A")
    assert 'value="3 1/2"' in again.text
    assert again.context["form"]["start"].value() == "6"
    client.post(f"{PRINT}?tool=DECK-2A", {**sent, "do": "show", "stock": "a4-sheet", "start": "6"})
    assert client.get(f"{PRINT}?tool=DECK-2A").context["form"]["start"].value() == "1"


def test_another_stock_is_shown_before_anything_is_printed(sign_in, rack):
    client = sign_in("hand")
    there = client.post(f"{PRINT}?tool=DECK-2A", {"do": "show", "stock": "a4-sheet", "gates": "no"})
    assert there.url == f"{PRINT}?tool=DECK-2A"
    page = client.get(there.url)
    assert page.text.count('type="radio" name="start"') == len(page.context["form"].shown.places)
    assert "style=" not in page.text
    assert f"'nonce-{re.search('nonce=.([^>]+).>', page.text)[1]}'" in page["Content-Security-Policy"]
    assert not TagRun.objects.exists()


def test_an_address_that_only_this_machine_opens_wants_a_tick(sign_in, rack, settings, monkeypatch):
    monkeypatch.setattr("tooling.words.tag_site.lan_address", lambda: "192.168.1.20")
    settings.SITE_URL = "http://127.0.0.1:8000"
    client = sign_in("hand")
    page = client.get("/tags/").text
    assert "A phone cannot open this" in page
    assert "passwords and PINs then cross it readable" in page
    assert "A phone cannot open these tags: " in client.post(f"{PRINT}?tool=WING4", LABELS).text
    printed(client.post(f"{PRINT}?tool=WING4", {**LABELS, "sure": "on"}), client)


def test_a_number_has_to_be_reserved_and_only_that_one_counts(sign_in, rack, settings, lead):
    settings.SITE_URL = number = "http://192.168.1.20:8000"
    client = sign_in("hand")
    assert "says so under Tags" in client.post(f"{PRINT}?tool=WING4", LABELS).text
    assert client.post("/tags/reserved/", {"address": number}).status_code == 403
    client = sign_in("lead")
    assert client.post("/tags/reserved/", {"address": "http://192.168.1.9"}, follow=True).text.count("has changed") == 1
    assert client.post("/tags/reserved/", {"address": number, "back": "//elsewhere.example"}).url == "/tags/"
    assert (Shop.current().tag_address, Shop.current().tag_address_by) == (number, lead.name)
    assert f"Tags open {number}" in client.get("/tags/").text
    printed(client.post(f"{PRINT}?tool=WING4", LABELS), client)
    settings.SITE_URL = "http://192.168.1.21:8000"
    assert "says so under Tags" in client.post(f"{PRINT}?tool=WING4", LABELS).text


def test_without_pango_a_sentence_says_what_to_install(sign_in, rack, monkeypatch):
    monkeypatch.setattr(libraries, "missing", lambda: ["pango-1.0"])
    client = sign_in("hand")
    assert "apt-get install" in client.get(f"{PRINT}?tool=WING4").text
    assert "apt-get install" in client.post(f"{PRINT}?tool=WING4", LABELS).text
    assert not TagRun.objects.exists()


def test_many_are_a_job_of_ones_own(sign_in, rack, monkeypatch, station):
    monkeypatch.setattr(service, "AT_ONCE", 2)
    client = sign_in("hand")
    address = client.post(f"{PRINT}?of=list", LABELS).url
    job = Job.objects.get()
    assert (address, "Waits for its turn" in client.get(address).text) == (f"/jobs/{job.pk}/", True)
    assert client.post(f"{PRINT}?of=list", LABELS).url == address
    other = Person.objects.create_person("Runa", "hand", "long enough for a test")
    client.force_login(other, backend="shared.access.RoleBackend")
    assert client.get(address).status_code == 403
    assert not TagPrint.objects.exclude(printed_at=None).exists()


def test_the_job_makes_the_file_and_marks_what_is_in_it(sign_in, rack, monkeypatch):
    monkeypatch.setattr(service, "AT_ONCE", 2)
    client = sign_in("hand")
    address = client.post(f"{PRINT}?of=list", LABELS).url
    work(threading.Event(), once=True)
    job, run = Job.objects.get(), TagRun.objects.get()
    assert (job.state, run.count, run.job) == ("done", 3, job.pk)
    assert client.get(address, headers={"HX-Request": "true"})["HX-Redirect"] == f"/tags/prints/{run.pk}/"
    assert client.get(f"/tags/prints/{run.pk}/tags.pdf").getvalue().startswith(b"%PDF")
    assert "No tool wants a tag" in client.get("/tags/").text


def test_a_held_tool_has_a_tag_to_hang_on(sign_in, rack):
    wing = mold("TN-HULL", None, pulls=None)
    do("hold", wing, at=ago(hours=2), reason="chip at the transom")
    client = sign_in("hand")
    assert "Print the held tag" in client.get("/tools/TN-HULL/").text
    pages = printed(client.post(f"{PRINT}?tool=TN-HULL&tool=WING4&held=yes", LABELS), client)
    assert len(pages) == 1
    assert "chip at the transom" in " ".join(pages[0].split())
    assert TagPrint.objects.get(tool=wing).wanted == "new"


def test_a_lost_tag_is_one_tap_and_a_station_is_asked(sign_in, rack, station, hand):
    client = sign_in("hand")
    assert client.get("/tools/WING4/tag-lost/").status_code == 200
    assert not TagPrint.objects.exclude(lost_at=None).exists()
    assert "on the list of tags" in client.post("/tools/WING4/tag-lost/", follow=True).text
    assert "Lost or unreadable" in client.get("/tags/").text
    client.post("/tools/WING4/tag-found/")
    assert not TagPrint.objects.exclude(lost_at=None).exists()
    client = sign_in("station")
    assert "Whose hands" in client.post("/tools/WING4/tag-lost/").text
    assert client.post("/tools/WING4/tag-lost/", {"by": hand.pk}).status_code == 302
    tag = TagPrint.objects.get(tool__code="WING4")
    assert (tag.lost_by, tag.lost_recorded_by) == (hand, station)


def test_the_board_says_it_to_a_lead_alone(sign_in, rack):
    assert "3 tags to print" in sign_in("lead").get("/").text
    assert "tags to print" not in sign_in("hand").get("/").text


def test_as_many_queries_for_many_tools_as_for_one(sign_in, rack, django_assert_num_queries):
    client = sign_in("hand")
    with django_assert_num_queries(11):
        client.get("/tags/")
    for number in range(30):
        mold(f"M{number}", None, pulls=None)
    with django_assert_num_queries(11):
        client.get("/tags/")


def test_a_retired_tool_that_was_found_as_well_is_left_out_and_said(sign_in, rack):
    Summary.objects.filter(tool__code="WING4").update(retired=True)
    page = sign_in("hand").get(f"{PRINT}?of=find")
    assert ("1 retired tool is left out" in page.text, page.context["count"]) == (True, 2)
    assert "WING4" not in sign_in("hand").get("/tags/").text


def test_a_retired_tool_has_one_tag_that_says_so_and_nothing_else(sign_in, rack):
    wing = Tool.objects.get(code="WING4")
    do("hold", wing, at=ago(hours=2), reason="chip at the transom")
    client = sign_in("hand")
    assert "Print the held tag" in client.get("/tools/WING4/").text
    TagPrint.objects.filter(tool=wing).update(lost_at=ago(hours=1), wanted="lost")
    Summary.objects.filter(tool=wing).update(retired=True)
    page = client.get("/tools/WING4/").text
    assert "Print tag" in page
    for words in (
        "Print the held tag",
        "It is not lost",
        "Tag lost or unreadable",
        "Lost or unreadable",
        "never had a tag",
    ):
        assert words not in page
    assert client.get(f"{PRINT}?tool=WING4&held=yes").context["count"] == 0
    (text,) = printed(client.post(f"{PRINT}?tool=WING4", LABELS), client)
    assert ("Retired: not to be used" in " ".join(text.split()), "pulls" in text) == (True, False)
