"""The tool set on the page of its part: what each may do about it, and back again; times forward and backward."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared.clock import now
from tests.tooling.views.deeds.conftest import described as described
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Entry, Kind, Part, SetLine, Shop
from tooling.selectors.set_sheet import set_sheet_of
from tooling.services.tools import add_tool

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("described")]
PAGE = "/parts/SK520-DECK/"
BACK = "?back=%2Fparts%2FSK520-DECK%2F"


@pytest.fixture
def deck(shop):
    """The revision with its mold, the insert that is in it, a trim mask and bolts; the shop is always open."""
    Shop.objects.update(week="Mon-Sun 00:00-24:00", hands=2)
    revision = Part.objects.get().revisions.get()
    for role, tool in (("mold", shop.mold), ("insert", shop.insert), ("trim_mask", shop.mask)):
        SetLine.objects.create(revision=revision, role=role, tool=tool)
    SetLine.objects.create(revision=revision, role="hardware", item="8 bolts M6", required=False)
    return revision


@pytest.fixture
def opened(client, request):
    def page(role, address=PAGE):
        client.force_login(request.getfixturevalue(role))
        return client.get(address)

    return page


def row(answer, code):
    return next(one for section in answer.context["sections"] for one in section.rows if one.now.line.what == code)


def links(one):
    said = [said.link.address for said in [*one.reasons, *one.notes] if said.link]
    return [*([one.button.address] if one.button else []), *said]


def test_a_set_that_is_ready_says_so_and_offers_the_lay_up_of_this_part(opened, deck):
    answer = opened("hand")
    assert "Can be laid up now." in answer.text
    assert "By the record: coats, film, holds and places." in answer.text
    assert [section.heading for section in answer.context["sections"]] == [
        "Mold",
        "Mold insert",
        "Trim mask",
        "Hardware",
    ]
    button = row(answer, "DECK-2A").button
    assert (button.address, row(answer, "DECK-2A").first) == ("/tools/DECK-2A/lay-up/?part=SK520-DECK", True)
    assert "8 bolts M6 <span" in answer.text
    assert answer.text.count("no cut out of tolerance by what was measured. Look at it before the cut.") == 1
    page = opened("hand", button.address)
    assert page.context["form"]["part"].value() == "SK520-DECK"


def test_reader_hand_and_lead_each_see_the_deeds_that_are_theirs(opened, deck, shop):
    happened.hold(shop.mask, reason="worn")
    deck.tool_set.filter(tool=shop.insert).update(confirmed=False)
    assert links(row(opened("reader"), "COAM-TRIM")) == []
    assert "Somebody has to look at it; it is freed only if it passes." in opened("reader").text
    assert links(row(opened("hand"), "COAM-TRIM")) == [f"/tools/COAM-TRIM/looked-at/{BACK}"]
    assert "Not confirmed for this revision: HATCH7." in opened("hand").text


def test_an_insert_that_is_out_is_worked_on_before_it_goes_in(opened, deck, shop):
    happened.remove(shop.insert)
    happened.see_build_up(shop.insert)
    answer = opened("hand")
    mold, insert = row(answer, "DECK-2A"), row(answer, "HATCH7")
    assert "Strip and coat it on the bench first. Last, put it into DECK-2A" in mold.reasons[0].mend
    assert (mold.button, insert.button.address, insert.first) == (None, f"/tools/HATCH7/strip/{BACK}", True)
    happened.strip(shop.insert)
    assert row(opened("hand"), "DECK-2A").reasons[0].mend.startswith("Coat it on the bench first. Last,")
    happened.log_coat(shop.insert)
    button = row(opened("hand"), "DECK-2A").button
    assert (button.word, button.about) == ("Put HATCH7 in", "")
    assert button.address.startswith("/tools/HATCH7/installed/")


def test_what_an_insert_lacks_is_said_once_and_its_mold_points_to_it(opened, deck, shop):
    happened.hold(shop.insert, reason="chipped")
    answer = opened("hand")
    mold, insert = row(answer, "DECK-2A"), row(answer, "HATCH7")
    assert [one.text for one in mold.reasons] == ["HATCH7, which is in it, may not be used."]
    assert mold.button is None
    assert insert.button.address == f"/tools/HATCH7/looked-at/{BACK}"
    assert insert.first


def test_a_part_whose_time_is_not_up_is_not_the_likeliest_to_be_pulled(opened, deck, shop):
    happened.lay_up(shop.mold, part="SK520-DECK", earliest_pull=now() + timedelta(hours=2))
    answer = opened("hand")
    mold = row(answer, "DECK-2A")
    assert (mold.button.word, mold.first) == ("Pulled", False)
    assert "the part in DECK-2A may come out then, if it is hard." in answer.text
    assert "a part in it, not before" in answer.text


def test_a_mended_reason_leads_back_with_its_strip_and_the_strip_back_again(opened, deck, shop, client):
    happened.hold(shop.mask, reason="worn")
    opened("hand")
    answer = client.post(
        f"/tools/COAM-TRIM/looked-at/{BACK}",
        {"token": "11111111-1111-4111-8111-111111111111", "at": "now", "passed": "yes"},
    )
    assert answer.url == f"{PAGE}?after=COAM-TRIM"
    page = client.get(answer.url)
    assert row(page, "COAM-TRIM").now.usable
    assert page.context["written"].entry.kind == "inspected"
    assert f'<input type="hidden" name="back" value="{PAGE}">' in page.text


def test_what_goes_on_keeps_the_way_back(opened, deck, shop, client):
    happened.lay_up(shop.mold, part="SK520-DECK")
    opened("hand")
    sent = {"token": "11111111-1111-4111-8111-111111111112", "at": "now", "came_off": "free"}
    seen = client.post(f"/tools/DECK-2A/pulled/{BACK}", sent).url
    assert seen.endswith(f"/seen/{BACK}")
    assert f'<a class="deed big" href="{PAGE}">' in client.get(seen).text


@pytest.mark.parametrize("back", ["//evil.example/parts/X/", "https://evil.example/parts/X/", "/tools/DECK-2A/", "x"])
def test_it_leads_nowhere_but_to_a_part(opened, deck, shop, client, back):
    opened("hand")
    sent = {"token": "11111111-1111-4111-8111-111111111113", "at": "now", "note": "dusty"}
    assert client.post(f"/tools/COAM-TRIM/note/?back={back}", sent).url == "/tools/COAM-TRIM/"
    assert Entry.objects.filter(kind="note").exists()


def test_it_leads_back_to_the_top_of_the_part(opened, deck, shop, client):
    opened("hand")
    sent = {"token": "11111111-1111-4111-8111-111111111114", "at": "now", "note": "dusty"}
    address = f"/tools/COAM-TRIM/note/{BACK}%23times"
    assert client.post(address, sent).url == f"{PAGE}?after=COAM-TRIM"


def test_of_two_molds_the_other_stands_below_with_why(opened, deck, shop):
    other = add_tool(code="DECK-2B", name="Deck", kind=Kind.MOLD, release_system=shop.wax)
    SetLine.objects.filter(tool=shop.mold).update(alternative="deck")
    SetLine.objects.create(revision=deck, role="mold", tool=other, alternative="deck")
    first = row(opened("hand"), "DECK-2A")
    assert [one.now.line.what for one in first.others] == ["DECK-2B"]
    assert "DECK-2A may be used now, DECK-2B not." in opened("hand").text


def test_a_wanted_time_is_answered_backward(opened, deck, shop):
    happened.want_wax(shop.mold)
    at = (now() + timedelta(days=3)).astimezone(Shop.current().zone).replace(hour=12, minute=0)
    answer = opened("hand", f"{PAGE}?wanted={at:%Y-%m-%dT%H:%M}")
    assert answer.context["start_by"].before == "Start by "
    assert answer.context["start_by"].rows[-1].ends <= at
    assert len(answer.context["start_by"].bars) == 2
    assert "How" in answer.context["times"].heading


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("soon", "is no time"),
        ("2020-01-01T08:00", "is past: choose a later time"),
        ("9999-99-99", "is no time"),
        ("x" * 41, "40"),
    ],
)
def test_a_time_that_cannot_be_wanted_says_what_to_change_and_stays(opened, deck, typed, said):
    answer = opened("reader", f"{PAGE}?wanted={typed}")
    assert said in answer.context["wanted"].errors["wanted"][0]
    assert f'value="{typed}"' in answer.text
    assert "Can be laid up now." in answer.text


def test_each_revision_has_its_own_set(opened, deck, shop):
    newer = Part.objects.get().revisions.create(name="Deck", revision="B")
    answer = opened("hand")
    assert answer.context["shown"] == newer
    assert "No tool set is written down for this revision." in answer.text
    deck.revision = "A"
    deck.save()
    older = opened("hand", f"{PAGE}?revision=a")
    assert older.context["shown"] == deck
    assert older.context["back"] == f"{PAGE}?revision=A"
    assert "There is no revision Z of it; this is the newest." in opened("hand", f"{PAGE}?revision=Z").text


def test_what_made_it_is_one_tap_away_where_a_set_stands_above(opened, deck, shop):
    happened.log_pull(shop.mold, came_off="free", part="SK520-DECK")
    assert "1 pull, last" not in opened("hand").text
    assert "1 pull, last" in opened("hand", f"{PAGE}?made=yes").text


def test_the_part_s_own_number_of_pulls_is_said(opened, deck, shop):
    happened.set_interval(shop.mold, count=2, part="SK520-DECK")
    assert "For SK520-DECK 2 pulls after a coat." in opened("hand").text


def test_what_no_work_mends_is_said_instead_of_a_time(opened, deck, shop):
    happened.retire(shop.mold, reason="worn")
    answer = opened("hand")
    assert "Cannot be laid up yet." in answer.text
    assert 'name="wanted"' not in answer.text
    asked = opened("hand", f"{PAGE}?wanted=2099-01-01T08:00")
    assert "Retired" in asked.context["wanted"].errors["wanted"][0]


@pytest.mark.parametrize("wrong", [{"week": "Mon-Fri 08:00-08:00"}, {"closed_days": "2026-13-01"}])
def test_hours_that_cannot_be_cost_no_page_of_a_set_that_is_ready(opened, deck, wrong):
    Shop.objects.update(**wrong)
    assert "Can be laid up now." in opened("hand").text
    assert set_sheet_of(deck, now()).found.now


def _reads(client, address):
    """What is asked of tables, session and person among it; not what begins and ends the one moment of a page."""
    with CaptureQueriesContext(connection) as found:
        assert client.get(address).status_code == 200
    frame = ("BEGIN", "ROLLBACK", "SAVEPOINT", "RELEASE", "SET TRANSACTION")
    reads = (one["sql"] for one in found.captured_queries if not one["sql"].startswith(frame))
    return [sql for sql in reads if sql not in ("SELECT 1", "SELECT 1 FROM sqlite_master")]


def test_twelve_tools_are_read_like_one_and_in_fewer_than_twelve_queries(opened, deck, shop, client):
    deck.tool_set.exclude(tool=shop.mold).delete()
    assert opened("lead").status_code == 200
    one = len(_reads(client, PAGE))
    for number in range(11):
        kind = Kind.INSERT if number % 2 else Kind.TRIM_MASK
        tool = add_tool(code=f"T-{number}", name="Rim", kind=kind, release_system=shop.wax if number % 2 else None)
        happened.hold(tool, reason="chipped")
        SetLine.objects.create(revision=deck, role=kind, tool=tool)
    for address in (PAGE, f"{PAGE}?after=DECK-2A"):
        found = _reads(client, address)
        assert len(found) < 12, found
    found = _reads(client, PAGE)
    assert len(found) <= one + 1  # what holds a tool is read where one is held


def test_a_lead_confirms_in_the_set_and_a_hand_says_where_it_lies(opened, deck, shop):
    deck.tool_set.filter(tool=shop.mask).update(confirmed=False)
    happened.lend(shop.mold, person="Heron Spit")
    edit = "/parts/SK520-DECK/set/?revision="
    assert links(row(opened("lead"), "COAM-TRIM")) == [f"{edit}&{BACK[1:]}"]
    assert f'href="{edit}"' in opened("lead").text
    hand = opened("hand")
    assert links(row(hand, "COAM-TRIM")) == []
    assert links(row(hand, "DECK-2A")) == [f"/tools/DECK-2A/handed-back/{BACK}"]
    assert edit not in hand.text


def test_a_part_without_a_set_leads_a_lead_to_one(opened, shop):
    assert 'href="/parts/SK520-DECK/set/?revision="' in opened("lead").text
    assert "A lead puts its molds" in opened("reader").text
