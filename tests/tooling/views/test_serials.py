"""Serial numbers: from one to what made it, as it is known now and as it was then, and from a tool to all of them."""

import csv
from datetime import date, timedelta

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.fixtures.once import once
from tests.tooling.views import works
from tests.tooling.views.serial_rows import PART, put_on_the_other, works_with_serials
from tooling.models import Entry, Part, PartRevision, ReleaseSystem, Tool
from tooling.selectors.serials.looked_up import named
from tooling.selectors.serials.made import made_in
from tooling.selectors.serials.story import told

LATER = works.NOW + timedelta(hours=1)
KNOWN = "2026-05-12 08:10"  # half an hour after all was written, and half an hour before LATER


@pytest.fixture
def shop(morning):
    return told_works()


@once
def told_works():
    return works_with_serials(ReleaseSystem.objects.get())


@pytest.fixture
def page(shop, sign_in):
    """Gets a page as a reader."""
    client = sign_in("reader")

    def got(number="0173", status=200, **asked):
        answer = client.get(reverse("serial", args=[number]), asked)
        assert answer.status_code == status
        return " ".join(answer.text.split())

    got.client = client
    return got


def story(number):
    return told(*named(number)).now


def entry(kind, number):
    return Entry.objects.get(kind=kind, serial=number)


def test_a_number_says_its_mold_the_state_of_its_wax_and_the_hands(page):
    text = page()
    for said in (
        "Pulled, free: Sat 9 May 07:40, Jonas.", "Laid up: Fri 8 May 07:40, Mara.", "COAM-TRIM",
        "2 pulls between the coat and this one.", "Coat: Mon 4 May 07:40, Mara, WAX, lot W14.",
        "Trimmed: Sat 9 May 19:40, Jonas.", "2 pulls left, then wax.",
        "By the count the coat had pulls left.", "It does not say that the part is fit;",
    ):  # fmt: skip
        assert said in text
    assert "HATCH7" not in text


def test_each_surface_is_judged_at_the_lay_up_and_at_the_pull(shop):
    """0172 is the second on the deck and the first on the insert; 0173 comes after the insert went."""
    deck, hatch = story("0172").made[0].surfaces
    assert (deck.tool, hatch.tool) == (shop.deck, shop.hatch)
    assert (deck.at_lay_up.status.since_coat, hatch.at_lay_up.status.since_coat) == (1, 0)
    assert (deck.came_off, hatch.at_pull.status.status, deck.at_lay_up.status.pulls_left) == ("tight", "ready", 3)
    (deck,) = story("0173").made[0].surfaces
    assert [one.status.since_coat for one in (deck.at_lay_up, deck.at_pull)] == [2, 2]
    assert deck.at_lay_up.status.pulls_left == 2


def test_what_stood_around_it(page):
    """Looked at half a day before, a tight one just before, held after two more pulls, and nobody looked since."""
    text = page()
    for said in (
        "Looked at before and passed: Thu 7 May 19:40, Mara.", "A hard pull 1 pull before, serial 0172: tight",
        "Held 2 pulls later, Mon 11 May 07:40, Jonas: “chipped”.", "Nobody has looked at it since.",
    ):  # fmt: skip
        assert said in text


def test_a_pull_without_a_lay_up_is_judged_as_it_was(shop):
    (made,) = story("0174").made
    assert made.making.lay_up is None
    assert (made.surfaces[0].at_lay_up, made.surfaces[0].at_pull.status.since_coat) == (None, 3)


def later(deed):
    """Done and written down an hour after the rest."""
    with time_machine.travel(LATER, tick=False):
        deed()


def otherwise(page, number="0173"):
    with time_machine.travel(LATER + timedelta(hours=1), tick=False):
        return page(number, known_at=KNOWN)


def test_what_was_on_the_wrong_mold_then(page, shop):
    later(lambda: [put_on_the_other(shop, entry(kind, "0173"), LATER) for kind in ("lay_up", "pull")])
    text = otherwise(page)
    assert "On Tue 12 May 08:10 it was thought to be from DECK-2A; it is from DECK-2B." in text
    assert "read the wrong tag" in text
    assert "In DECK-2A" in text
    assert "In DECK-2B" in page()


def correct(**changes):
    works.do("correct", entry("pull", "0173"), reason="asked again", changes=changes)


@pytest.mark.parametrize(
    ("deed", "said"),
    [
        (
            lambda _shop: correct(came_off="stuck"),
            "free: Sat 9 May 07:40, Jonas”, now “Pulled, stuck, a hard pull",
        ),
        (
            lambda _shop: works.do("void", entry("pull", "0173"), reason="never"),
            "now “Pulled, free: Sun 10 May",
        ),
        (
            lambda shop: works.do("log_coat", shop.deck, at=works.ago(days=4, hours=4), lot="W16"),
            "on Tue 12 May 08:10 “By the count: 2 pulls left, then wax”, now “By the count: 4 pulls left, then wax”.",
        ),
        (lambda shop: works.do("hold", shop.deck, at=works.NOW), "Nothing of it is known otherwise now."),
    ],
)
def test_what_is_known_otherwise_now_is_said_in_words(page, shop, deed, said):
    later(lambda: deed(shop))
    assert said in otherwise(page)


def test_before_anything_was_written_nothing_was_known(page):
    assert "On Sat 9 May 23:59 nobody had written it down." in page(known_at="2026-05-09")


def test_void_entries_leave_their_number_to_be_seen(page, shop):
    for kind in ("lay_up", "pull", "used"):
        works.do("void", entry(kind, "0173"), reason="another day")
    text = page()
    assert "Only entries that are void give the number" in text
    assert "another day" in text
    assert [one.numbers for one in made_in(shop.deck).parts if "0173" in one.numbers] == []


def test_what_a_tool_made_counts_those_without_a_number(shop):
    """Three with a lay-up, and one pull of two of which one has a number."""
    made = made_in(shop.deck)
    assert [one.numbers for one in made.parts] == [("0174",), ("0173",), ("0172",), ("0171",)]
    assert (made.counted("pulled"), made.numbered, made.without) == (5, 4, 1)
    works.do("lay_up", shop.other, serial="0175, 0176")
    assert [(one.how, one.count) for one in made_in(shop.other).parts] == [("still_in", 2)]


@pytest.mark.parametrize(("first", "last", "numbers"), [(8, 8, ["0173"]), (9, 9, ["0173"]), (6, 9, ["0173", "0172"])])
def test_both_days_of_a_stretch_count(shop, first, last, numbers):
    """0173: 8 to 9 May. 0172: 6 to 7 May."""
    made = made_in(shop.deck, date(2026, 5, first), date(2026, 5, last))
    assert [number for one in made.parts for number in one.numbers] == numbers


def test_an_insert_has_what_was_made_while_it_was_in_and_a_trim_mask_what_it_cut(shop):
    assert [(one.tool.code, one.numbers) for one in made_in(shop.hatch).parts] == [("DECK-2A", ("0172",))]
    assert [(one.how, one.numbers) for one in made_in(shop.mask).parts] == [("trimmed", ("0173",))]


def test_several_parts_with_the_number_are_a_choice(page, shop):
    works.do("lay_up", shop.other, part="SEAT", serial="0173")
    PartRevision.objects.create(part=Part.objects.create(number="Seat"), name="Bow seat")
    text = page()
    assert "2 parts have it" in text
    assert "Bow seat · " in text
    assert f"/serials/0173/?part={PART}&amp;tool=COAM-TRIM" in text or f"part={PART}" in text
    assert "by the record it is still in the mold." in page(part="SEAT")
    assert "In DECK-2A" in page(part=PART)


def test_a_trim_mask_makes_no_part_of_its_own(shop):
    works.do("lay_up", shop.other, part=PART, serial="0173")
    tools = [[tool.code for tool in one.tools] for one in named("0173", PART)]
    assert tools == [["DECK-2A", "COAM-TRIM"], ["DECK-2B", "COAM-TRIM"]]
    Tool.objects.filter(code__in=["DECK-2B", "COAM-TRIM"]).update(hand="R")
    assert [one.tools[-1].code for one in named("0173", PART)] == ["DECK-2A", "COAM-TRIM"]


def test_both_tables(page):
    def rows(**asked):
        return list(csv.reader(page.client.get(reverse("serials_table"), asked).text.lstrip("\ufeff").splitlines()))

    head, *made = rows(tool="deck-2a")
    assert head[3] == "laid up [Europe/Lisbon]"
    assert [(one[0], one[-2:]) for one in made[:2]] == [("0174", ["1", "0"]), ("", ["1", "1"])]
    head, deck, hatch = rows(serial="0172", part=PART)
    assert [hatch[2], hatch[4], hatch[13], deck[11], deck[17]] == ["HATCH7", "DECK-2A", "W15", "tight", "1"]


def test_a_number_that_a_spreadsheet_would_run_is_guarded(page, shop):
    works.do("lay_up", shop.other, serial="=1+1")
    text = page.client.get(reverse("serials_table"), {"tool": "DECK-2B"}).text
    assert "'=1+1" in text


def test_an_unknown_number_leads_to_those_like_it(page):
    text = page("173", status=404)
    assert 'href="/serials/0173/"' in text
    assert 'value="173"' in text
    assert "Others have it" in page(part="SEAT", status=404)


@pytest.mark.parametrize(
    ("asked", "said", "kept"),
    [
        ({"q": "x" * 500}, "longer than any serial number", "x" * 500),
        ({"tool": "DECK-2A", "from": "2026-05-09", "until": "2026-05-08"}, "before the first day", "2026-05-08"),
        ({"tool": "DECK-2Z"}, "No tool has or had the code", "DECK-2Z"),
        ({"tool": "DECK-2A", "from": "yesterday"}, "Write the day as", "yesterday"),
        ({"tool": "DECK-2A", "from": "0001-01-01"}, "in that year", "0001-01-01"),
        ({"tool": "", "from": "2026-05-09"}, "Say which tool", "2026-05-09"),
        ({"tool": "\0"}, "A sign in it cannot be kept", ""),
        ({"q": "\0"}, "A sign in it cannot be kept", ""),
    ],
)
def test_nonsense_is_answered_in_words_and_stays(page, asked, said, kept):
    text = page.client.get("/serials/", asked).text
    assert said in text
    assert kept in text


def test_nonsense_in_the_address_of_a_number(page):
    assert "Nothing has the serial number" in page("y" * 500, status=404)
    page("\0", status=404)
    page("../x", status=404)
    assert "is no time" in page(known_at="soon")
    assert "That is still to come" in page(known_at="2190-01-01T10:00")
    assert page.client.get("/serials.csv", {"tool": "NONE"}).status_code == 302
    assert page.client.get("/serials/", {"q": "01/73"}).url == "/serials/01/73/"


def test_the_history_of_a_tool_and_the_search_lead_to_it(page):
    assert f'<a href="/serials/0173/?part={PART}">0173</a>' in page.client.get("/tools/DECK-2A/").text
    assert "/serials/?tool=DECK-2A" in page.client.get("/tools/DECK-2A/").text
    assert f"Serial 0173: {PART} from DECK-2A" in page.client.get("/tools/", {"q": "0173"}).text
    assert "Serial 0173" not in page.client.get("/tools/", {"q": "017"}).text


def test_the_same_queries_with_one_part_and_with_thirty(page, shop):
    def counted(address):
        with CaptureQueriesContext(connection) as found:
            assert page.client.get(address).status_code == 200
        return len(found)

    addresses = [reverse("serial", args=["0173"]), "/serials/?tool=DECK-2A", "/serials.csv?tool=DECK-2A"]
    before = [counted(address) for address in addresses]
    for number in range(30):
        works.do("log_pull", shop.deck, at=works.ago(hours=10), serial=f"9{number}", part=PART, came_off="tight")
    assert [counted(address) for address in addresses] == before
