"""What is wanted, beside the board and on its own page: how it looks, who may change it, and bad input."""

import re
from datetime import date
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.tooling.views.works import NOW, ago, do, mold, recipe
from tooling.models import Part, PartRevision, SetLine, Shop, Wanted
from tooling.services import wanted

pytestmark = pytest.mark.django_db
BOARD, LIST = "/", "/wanted/"
# A lead's has the parts to choose from, and what a lead alone is told.
QUERIES = {"reader": 28, "lead": 32}


@pytest.fixture(autouse=True)
def hours(morning):
    """Without shop hours nobody can say when anything is ready."""
    Shop.objects.update(week="Mon-Fri 07:00-17:00", hands=2)


def part(number, *tools, name=""):
    revision = PartRevision.objects.create(part=Part.objects.create(number=number), name=name or f"Part {number}")
    for tool in tools:
        SetLine.objects.create(revision=revision, role=tool.kind, tool=tool)
    return revision


def want(of, lead, hours=1, **more):
    return wanted.want(of.part, by=lead, at=ago(hours=hours), **more)


def slip(reply):
    """The words of the slip beside the board."""
    return words(reply, r'<section class="slip wanted".*?</section>')


def group(reply, anchor):
    return words(reply, rf'<section class="part" aria-labelledby="{anchor}">.*?</section>')


def words(reply, pattern):
    found = re.search(pattern, reply.text, re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", found.group(0)).split()) if found else ""


def sent(number, **more):
    return {"part": number, "count": "1", "token": str(uuid4()), **more}


def test_each_says_how_it_stands_and_what_to_do(sign_in, lead, morning):
    slow = recipe("SLOW", touch_up_coats=3, coat_gap_minutes=60, cure_hours_touch_up=4)
    want(part("DECK", mold("DECK-2B", morning, pulls=1)), lead)
    want(part("HULL", mold("HULL520", morning, pulls=3)), lead)
    want(part("TENDER", mold("TENDER-DECK", slow, pulls=4)), lead)
    held = mold("TN-HULL", morning)
    do("hold", held, at=ago(hours=15), reason="chip")
    want(part("TN", held), lead)
    want(part("BARE"), lead)
    said = slip(sign_in("lead").get(BOARD))
    assert "Part DECK × 1 By the record it can be laid up now, in DECK-2B. Start lay-up DECK-2B" in said
    assert "By the record it can be laid up now: last pull of HULL520." in said
    assert re.search(r"Can be laid up from 1\d:\d\d if the first coat goes on now\. Coats TENDER-DECK", said)
    assert re.search(r"Part TN × 1 .*TN-HULL.* Look at it TN-HULL", said)
    assert "Part BARE × 1 No tool set is written down for this revision. Look at its tools" in said


def test_of_two_parts_of_one_mold_the_second_says_which_comes_first(sign_in, lead, morning):
    deck = mold("DECK-2B", morning, pulls=1)
    want(part("DECK", deck), lead, hours=2)
    want(part("LONG", deck), lead, hours=1)
    said = slip(sign_in("hand").get(BOARD))
    assert said.count("comes first in this mold.") == 1
    assert "Part DECK comes first in this mold." in said.partition("Part LONG")[2]


def test_a_mold_insert_that_is_missing_comes_before_the_lay_up(sign_in, lead, morning):
    deck, rim = mold("DECK-2B", morning), mold("RIM", morning, kind="insert")
    want(part("DECK", deck, rim), lead)
    said = slip(sign_in("hand").get(BOARD))
    assert "Put RIM in" in said
    assert "Start lay-up" not in said
    do("install", rim, at=ago(minutes=5), mold=deck)
    assert "Start lay-up DECK-2B" in slip(sign_in("hand").get(BOARD))


def test_a_trim_mask_that_may_not_be_used_is_said_beside_the_time(sign_in, lead, morning):
    mask = mold("TRIM", None, kind="trim_mask", pulls=None)
    do("hold", mask, at=ago(hours=2), reason="worn")
    want(part("DECK", mold("DECK-2B", morning, pulls=1), mask), lead)
    assert "TRIM may not be used now: the part can be laid up, not yet trimmed." in slip(sign_in("lead").get(BOARD))


def test_what_is_wanted_stands_first_among_what_wants_wax_with_the_time_of_its_set(sign_in, lead, morning):
    slow = recipe("SLOW", touch_up_coats=3, coat_gap_minutes=60, cure_hours_touch_up=4)
    mold("SOONER", morning, pulls=4)
    rim = mold("RIM", slow, pulls=4, kind="insert")
    idle = mold("IDLE", morning, pulls=4)
    do("install", rim, at=ago(hours=1), mold=idle)
    idle.spans.update(group_at=ago(days=60))
    assert "IDLE" not in group(sign_in("hand").get(BOARD), "coat")
    want(part("DECK", idle, rim), lead)
    said = group(sign_in("hand").get(BOARD), "coat")
    assert re.search(r"1\d:\d\d if started now IDLE Tool IDLE · wanted today .* SOONER", said)


def test_so_many_that_are_wanted_are_shown_as_any_group_shows(sign_in, lead, morning, monkeypatch):
    monkeypatch.setattr("tooling.selectors.board.MOST", 2)
    want(part("DECK", *(mold(f"M-{number}", morning, pulls=4) for number in range(3))), lead)
    mold("OTHER", morning, pulls=4)
    said = group(sign_in("hand").get(BOARD), "coat")
    assert said.count("wanted today") == 2
    assert "2 more on the racks want wax or release." in said
    assert "OTHER" not in said


def test_a_hand_lays_it_up_and_pulls_it_and_it_is_drawn_through(sign_in, lead, hand, morning):
    deck = mold("DECK-2B", morning, pulls=1)
    want(part("DECK", deck), lead, hours=3)
    client = sign_in("hand")
    address = f"{reverse('lay_up', args=['DECK-2B'])}?part=DECK"
    assert address in client.get(BOARD).text
    assert 'value="DECK"' in client.get(address).text
    do("lay_up", deck, hand, at=ago(hours=2), part="DECK")
    assert "1 of 1 laid up. Pulled DECK-2B" in slip(client.get(BOARD))
    do("log_pull", deck, hand, at=ago(hours=1), part="DECK", came_off="free")
    reply = client.get(BOARD)
    assert "<s>" in reply.text
    assert "Laid up and pulled, 06:40." in slip(reply)


def test_a_lead_puts_a_part_on_the_list_without_leaving_the_board(sign_in, lead, morning):
    mold("DECK-2B", morning, pulls=1)
    part("DECK", name="Sea kayak, deck")
    client = sign_in("lead")
    assert "Sea kayak, deck · DECK" in slip(client.get(BOARD))
    said = sent("deck", count="2", back=BOARD)
    assert client.post(LIST, said).url == BOARD
    assert client.post(LIST, said).url == BOARD
    row = Wanted.objects.get()
    assert (row.part.number, row.count, row.by, row.at) == ("DECK", 2, lead, NOW)
    assert client.post(LIST, sent("DECK", back="//elsewhere.example")).status_code == 200
    assert "is on the list already, 2 of it" in client.post(LIST, sent("DECK")).text


@pytest.mark.parametrize("back", ["x", "board", "//elsewhere.example", "https://elsewhere.example/"])
def test_it_leads_back_to_no_page_but_ours(sign_in, lead, back):
    part("DECK")
    client = sign_in("lead")
    assert client.post(LIST, sent("DECK", back=back)).url == LIST
    row = Wanted.objects.get()
    assert client.post(reverse("take_off_wanted", args=[row.pk]), {"back": back}).url == LIST
    assert client.post(reverse("rub_out_wanted", args=[row.pk]), {"back": back}).url == LIST


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"count": "0"}, "From 1 to 500."),
        ({"count": "-1"}, "From 1 to 500."),
        ({"count": "1e9"}, "Write a whole number."),
        ({"part": "DECL"}, "There is no part DECL. Did you mean DECK?"),
        ({"part": "zzz\u00e9"}, "A lead writes it down under Parts."),
        ({"part": ""}, "Which part is wanted?"),
        ({"day": "2026-05-11"}, "That day is over."),
        ({"day": "soon"}, "Write the day as 2026-05-12."),
        ({"token": "x"}, "This page had lost what keeps it from being sent twice."),
    ],
)
def test_bad_input_is_a_sentence_and_keeps_what_was_typed(sign_in, morning, wrong, sentence):
    part("DECK")
    reply = sign_in("lead").post(LIST, {**sent("DECK", count="7"), **wrong})
    assert sentence in reply.text
    assert f'value="{wrong.get("count", "7")}"' in reply.text
    assert not Wanted.objects.exists()


def test_it_is_changed_taken_off_and_put_back(sign_in, lead, morning):
    row = want(part("DECK", mold("DECK-2B", morning, pulls=1)), lead)
    client = sign_in("lead")
    page = client.get(reverse("change_wanted", args=[row.pk]))
    assert "What was laid up since counts as before." in page.text
    said = {"count": "3", "day": "2026-05-14", "seen": "1"}
    assert client.post(reverse("change_wanted", args=[row.pk]), said).url == LIST
    row.refresh_from_db()
    assert (row.count, row.day) == (3, date(2026, 5, 14))
    assert "it is 3, 2026-05-14 now" in client.post(reverse("change_wanted", args=[row.pk]), said).text
    assert "DECK" not in slip(client.get(BOARD)).partition("Want a part")[0]  # for another day
    assert "for Thu" in client.get(LIST).text
    client.post(reverse("take_off_wanted", args=[row.pk]), {"back": BOARD})
    assert "DECK was taken off. Rub it out for 5 more minutes" in slip(client.get(BOARD))
    text = client.get(LIST).text
    assert text.count("DECK was taken off.") == 1
    assert text.index("DECK was taken off.") < text.index("Want a part")
    client.post(reverse("rub_out_wanted", args=[row.pk]))
    assert Wanted.objects.on_list().get() == row


def test_of_an_older_revision_it_leads_to_the_set_of_that_one(sign_in, lead, morning):
    mold("OTHER", morning, pulls=1)
    old = part("DECK")
    PartRevision.objects.filter(pk=old.pk).update(revision="A 1")
    PartRevision.objects.create(part=old.part, revision="B", name="Deck")
    want(old, lead, revision=PartRevision.objects.get(pk=old.pk))
    text = sign_in("hand").get(BOARD).text
    assert text.count('"/parts/DECK/?revision=A%201"') == 2
    assert "revision A 1" in slip(sign_in("hand").get(BOARD))


def test_a_count_below_what_was_pulled_yesterday_leads_back(sign_in, lead, morning):
    deck = mold("DECK-2B", morning)
    row = want(part("DECK", deck), lead, hours=40, count=2)
    do("log_pull", deck, at=ago(hours=30), part="DECK", came_off="free")
    client, address = sign_in("lead"), reverse("change_wanted", args=[row.pk])
    assert client.post(address, {"count": "1", "seen": "2"}).url == LIST
    assert "DECK × 1 done Mon 11 May 01:40 Change Part DECK" in group(client.get(LIST), "off")
    client.post(address, {"count": "2", "seen": "1"})
    text = client.get(LIST).text
    assert "1 of 2 pulled." in text
    assert "Off the list lately" not in text


def test_who_may_only_read_sees_no_form_and_no_deed(sign_in, lead, morning):
    client = sign_in("reader")
    assert slip(client.get(BOARD)) == ""
    want(part("DECK", mold("DECK-2B", morning)), lead)
    for address in (BOARD, LIST):
        text = client.get(address).text
        assert "By the record it can be laid up now, in DECK-2B." in text
        assert "Take off" not in text
        assert "?part=DECK" not in text


@pytest.mark.parametrize("role", QUERIES)
def test_as_many_queries_for_thirty_as_for_one(sign_in, lead, morning, django_assert_num_queries, role):
    client = sign_in(role)

    def more(numbers):
        for number in numbers:
            deck = mold(f"M-{number}", morning, pulls=3 + number % 2)
            do("lay_up", deck, at=ago(hours=5), part=f"P-{number}")
            do("log_pull", deck, at=ago(hours=4), part=f"P-{number}")
            made = part(f"P-{number}", deck)
            want(made, lead, hours=6, count=2, revision=made if number % 3 else None)

    more(range(2))
    client.get(BOARD)
    with django_assert_num_queries(QUERIES[role]):
        client.get(BOARD)
    more(range(2, 32))
    with django_assert_num_queries(QUERIES[role]):
        text = client.get(BOARD).text
    assert "12 more parts" in text
    assert "wanted today" in text


def test_its_own_page_reads_what_was_made_once(sign_in, lead, morning):
    want(part("DECK", mold("DECK-2B", morning)), lead)
    client = sign_in("reader")
    with CaptureQueriesContext(connection) as asked:
        client.get(LIST)
    assert sum("WITH wanted(" in one["sql"] for one in asked) == 1
