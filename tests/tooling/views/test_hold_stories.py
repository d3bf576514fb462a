"""Holds on screen: the story of one, those of a tool, all that is held now, and the held tag in one tap."""

from datetime import date, timedelta

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Entry, Person, Shop, TagRun
from tooling.selectors.held_now import barred_if_formal
from tooling.selectors.hold_stories import all_holds
from tooling.services import deeds
from tooling.services.rights import give
from tooling.words.shop import formal

pytestmark = pytest.mark.django_db
MOLD = "/tools/DECK-2A/"


@pytest.fixture(autouse=True)
def signed_in(client, lead, shop):
    client.force_login(lead)


@pytest.fixture
def freed(shop, hand, lead):
    """Stopped twice, looked at twice, and freed by a right."""
    Shop.objects.update(formal_records=True)
    give(lead, "free", since=date(2026, 1, 1), by=lead, at=now())
    first = deeds.hold(shop.mold, reason="crack at the keel", by=hand, recorded_by=hand)
    deeds.hold(shop.mold, reason="chip too", by=hand, recorded_by=hand)
    deeds.inspect(shop.mold, passed=False, note="goes through", by=hand, recorded_by=hand)
    deeds.inspect(shop.mold, passed=True, note="ground out", by=lead, recorded_by=lead)
    return first


def test_the_story_says_why_what_was_looked_at_and_who_freed_it_by_which_right(client, freed):
    page = client.get(f"{MOLD}holds/{freed.number}/").text
    for words in ("crack at the keel", "goes through", "ground out", "by Test lead"):
        assert words in page
    assert "By the right to free held tools, from 1 Jan 2026 on, given by Test lead." in page
    assert "It holds the tool still." not in page


def test_all_holds_are_listed_with_what_became_of_each(client, shop, freed):
    page = client.get(f"{MOLD}holds/").text
    assert page.count("Freed ") == 3
    happened.hold(shop.mold, reason="anew")
    found = all_holds(shop.mold, now() + timedelta(seconds=1))
    assert [one.stands for one in found] == [True, False, False, False]
    assert "It was never held." in client.get("/tools/HATCH7/holds/").text
    assert client.get(f"{MOLD}holds/999/").status_code == 404


def test_a_void_hold_stays_readable_and_a_corrected_one_says_both(client, shop, lead):
    said = {"by": lead, "recorded_by": lead}
    void = deeds.hold(shop.mold, reason="by mistake", **said)
    deeds.void(void, reason="wrong mold", **said)
    page = client.get(f"{MOLD}holds/{void.number}/").text
    assert "<del>" in page
    assert "wrong mold" in page
    hold = deeds.hold(shop.mold, reason="krack", **said)
    now_said = deeds.correct(hold, reason="typed wrong", changes={"reason": "crack"}, **said)
    reply = client.get(f"{MOLD}holds/{hold.number}/")
    assert reply.url == f"{MOLD}holds/{now_said.number}/"
    page = client.get(reply.url).text
    assert "Before it was corrected:" in page
    assert "krack" in page


def test_what_held_it_once_stays_readable_when_it_is_corrected_or_was_a_pull(client, shop, lead):
    said = {"by": lead, "recorded_by": lead}
    failed = deeds.inspect(shop.mold, passed=False, note="soft spot", **said)
    deeds.correct(failed, reason="it was its neighbour", changes={"passed": True}, **said)
    pull = deeds.log_pull(shop.mold, came_off="lost", **said)
    deeds.void(pull, reason="another mold", **said)
    easy = deeds.log_pull(shop.mold, came_off="free", **said)
    deeds.void(easy, reason="another mold", **said)
    page = client.get(f"{MOLD}holds/{failed.number}/").text
    assert "<del>" in page
    assert "what stands in its place does not hold the tool" in page
    assert "soft spot" in page
    assert "another mold" in client.get(f"{MOLD}holds/{pull.number}/").text
    assert client.get(f"{MOLD}holds/{easy.number}/").status_code == 404
    assert client.get(f"{MOLD}holds/").text.count("The whole story") == 2


def test_an_insert_that_a_pull_of_its_mold_held_tells_of_that_pull(client, shop):
    happened.lay_up(shop.mold)
    pull = happened.log_pull(shop.mold, came_off="stuck", surface=shop.insert.pk, tool_damaged=True)
    address = f"/tools/HATCH7/holds/{pull.number}/?of=DECK-2A"
    assert address in client.get("/tools/HATCH7/holds/").text
    assert "It holds the tool still." in client.get(address).text
    assert client.get(f"{MOLD}holds/{pull.number}/").status_code == 404


def test_all_that_is_held_now_says_who_may_free_it(client, shop, hand, django_assert_max_num_queries):
    assert "Nothing is held." in client.get("/held/").text
    for tool in (shop.mold, shop.insert, shop.mask):
        deeds.hold(tool, reason="look", by=hand, recorded_by=hand)
    Shop.objects.update(formal_records=True)
    with django_assert_max_num_queries(18):
        page = client.get("/held/").text
    assert page.count("Not by Test hand: who stopped it cannot free it.") == 3
    assert "Who may free them today:" in page
    assert "Nobody may free it today" not in page
    give(hand, "free", since=date(2026, 1, 1), by=None, at=now())
    assert client.get("/held/").text.count("Nobody may free it today: give somebody else the right.") == 3
    Shop.objects.update(formal_records=False)
    barred = barred_if_formal(now())
    assert "Nobody could free COAM-TRIM, DECK-2A, HATCH7 today" in " ".join(formal(True, 0, barred))
    Person.objects.filter(pk=hand.pk).update(is_active=False)
    assert client.get(f"{MOLD}holds/{Entry.objects.get(tool=shop.mold, kind='hold').number}/").status_code == 200


def test_the_held_tag_is_printed_in_one_tap_on_what_was_printed_on_last(client, settings, shop):
    settings.SITE_URL = "https://shop.example"
    happened.hold(shop.mold)
    assert "Print the held tag" in client.get(f"{MOLD}hold/").text
    address, sent = "/tags/print/?tool=DECK-2A&held=yes", {"do": "print", "as_before": "yes"}
    assert client.post(address, sent).url.startswith("/tags/prints/")
    client.post(address, {"stock": "a7", "gates": "yes", "start": "1", "do": "print"})
    client.post(address, sent)
    runs = TagRun.objects.order_by("pk")
    assert [(run.given["stock"], run.given["held"]) for run in runs] == [(one, True) for one in ("label", "a7", "a7")]
