"""One part and two pulls, a pull before its lay-up, a number that was used before: asked first, and nothing is lost."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from shared import clock
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Kind, Person
from tooling.services import deeds
from tooling.services.tools import add_tool

pytestmark = [pytest.mark.django_db, pytest.mark.both]
PAGE = "/tools/DECK-2A/pulled/"


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def pulls():
    return Entry.objects.filter(kind="pull").count()


def ines_pulls(tool, **facts):
    ines = Person.objects.named("Ines")
    return deeds.log_pull(tool, by=ines, recorded_by=ines, came_off="free", **facts)


def laid_up(client, tool, **facts):
    """The lay-up that the page of the pull was opened with."""
    happened.lay_up(tool, **facts)
    return client.get(PAGE).context["form"]["lay_up"].value()


def test_a_pull_of_a_moment_ago_is_asked_about_before_the_marks(client, shop):
    happened.lay_up(shop.mold, part="SK520-DECK", serial="0173")
    ines_pulls(shop.mold, serial="0173")
    page = client.get(PAGE).text
    assert "Ines wrote a pull here at" in page
    assert ": free." in page
    assert "mark-deed" not in page
    assert 'href="/tools/DECK-2A/"' in page
    assert client.get(f"{PAGE}?another=1").text.count('class="mark-deed"') == 5
    with time_machine.travel(clock.now() + timedelta(minutes=11), tick=False):
        assert "Ines wrote" not in client.get(PAGE).text


def test_ones_own_pull_leads_to_what_is_seen_of_it(client, send):
    send("pulled", came_off="free")
    number = Entry.objects.get(kind="pull").number
    assert f'href="/tools/DECK-2A/entries/{number}/seen/"' in client.get(PAGE).text


def test_with_the_next_part_in_it_nothing_is_asked(client, shop):
    ines_pulls(shop.mold)
    happened.lay_up(shop.mold, part="SK520-DECK")
    assert client.get(PAGE).text.count('class="mark-deed"') == 5


def test_another_part_is_written_when_it_is_said(send, shop):
    ines_pulls(shop.mold)
    assert send("pulled", came_off="light").status_code == 200
    assert pulls() == 1
    assert send("pulled", came_off="light", another="yes").status_code == 302
    assert pulls() == 2


@pytest.mark.parametrize("again", [False, True])
def test_a_part_that_somebody_pulled_meanwhile_is_not_pulled_twice(client, send, shop, again):
    before = laid_up(client, shop.mold, part="SK520-DECK", serial="0173")
    ines_pulls(shop.mold, part="SK520-DECK", serial="0173")
    if again:
        happened.lay_up(shop.mold, part="SK520-DECK", serial="0174")
    typed = {"came_off": "tight", "lay_up": before, "part": "SK520-DECK", "serial": "0173", "note": "by the bow"}
    with time_machine.travel(clock.now() + timedelta(minutes=30), tick=False):
        asked = send("pulled", **typed)
        assert "Not written yet." in asked.text
        assert "You tapped tight" in asked.text
        assert pulls() == 1
        form = send("pulled", **typed, another="look")
        assert 'value="tight" aria-pressed="true"' in form.text
        assert "by the bow" in form.text
        kept = {name: form.context["form"][name].value() for name in ("part", "serial", "lay_up", "another")}
        assert (kept["part"], kept["serial"], kept["another"]) == ("", "", "yes")
        assert pulls() == 1
        assert send("pulled", **{**typed, **kept}).status_code == 302
    assert pulls() == 2


def test_the_same_form_again_gets_its_first_answer(client, send, shop):
    before = laid_up(client, shop.mold, part="SK520-DECK", serial="0173")
    typed = {"came_off": "free", "lay_up": before, "part": "SK520-DECK", "serial": "0173", "token": uuid4()}
    first, again = send("pulled", **typed), send("pulled", **typed)
    assert (first.status_code, again.status_code, again.url) == (302, 302, first.url)
    assert pulls() == 1


@pytest.mark.parametrize("lay_up", ["", "x", "-1", "9" * 40, "٣", "0"])
def test_nonsense_for_the_lay_up_is_none(send, shop, lay_up):
    happened.lay_up(shop.mold)
    send("pulled", came_off="free", lay_up=lay_up)
    assert pulls() == 1


def test_a_pull_before_its_lay_up_was_another_part(client, send, shop):
    with time_machine.travel("2026-07-08T12:00:00Z", tick=False):
        happened.lay_up(shop.mold, part="SK520-DECK", serial="0173")
    with time_machine.travel("2026-07-08T16:00:00Z", tick=False):
        typed = {"came_off": "free", "part": "SK520-DECK", "serial": "0173"}
        for when, field in (({"at": "earlier", "at_time": "11:00"}, "at_time"),
                            ({"at": "exact", "at_exact": "2026-07-08T11:00"}, "at_exact")):  # fmt: skip
            answer = send("pulled", **typed, **when)
            assert errors(answer)[field] == ["Before its lay-up (13:00). Was it another part? Then say which."]
            assert 'value="free" aria-pressed="true"' in answer.text
        assert send("pulled", **{**typed, "part": "", "serial": ""}, at="earlier", at_time="11:00").status_code == 302
    assert Entry.objects.get(kind="pull").serial == ""
    assert client.get("/tools/DECK-2A/").context["page"].own.in_mold.serial == "0173"


def test_a_lay_up_without_part_and_serial_is_asked_about_once(send, shop):
    with time_machine.travel("2026-07-08T12:00:00Z", tick=False):
        happened.lay_up(shop.mold)
    with time_machine.travel("2026-07-08T16:00:00Z", tick=False):
        typed = {"came_off": "free", "at": "earlier", "at_time": "11:00"}
        assert 'name="sure" value="before"' in send("pulled", **typed).text
        assert send("pulled", **typed, sure="before").status_code == 302


@pytest.mark.parametrize("name", ["lay_up", "pulled"])
def test_a_serial_that_stands_there_twice_is_asked_about_once(send, name):
    typed = {"came_off": "free", "serial": "2, 3, 2"}
    answer = send(name, **typed)
    assert errors(answer) == {"serial": ["2 stands there twice. Write it all the same?"]}
    assert 'name="sure" value="twice 2, 3, 2"' in answer.text
    before = Entry.objects.count()
    assert send(name, **typed, sure="twice 2, 3, 2").status_code == 302
    assert Entry.objects.count() == before + 1


@pytest.mark.parametrize(("deed", "words"), [("log_pull", "was pulled from"), ("lay_up", "was laid up in")])
@pytest.mark.parametrize("name", ["lay_up", "pulled"])
def test_a_serial_that_was_used_before_is_asked_about_once(send, shop, deed, words, name):
    other = add_tool(code="DECK-2B", name="Another", kind=Kind.MOLD, release_system=shop.wax)
    getattr(happened, deed)(other, part="SK520-DECK", serial="0018, 0019")
    part = {"part": "SK520-DECK", "part_typed": "SK520-DECK"}
    typed = {"came_off": "free", **part, "serial": "0019", "token": uuid4()}
    answer = send(name, **typed)
    assert f"0019 {words} DECK-2B on " in errors(answer)["serial"][0]
    for _ in range(2):
        assert send(name, **typed, sure=["used 0019"]).status_code == 302
    known = {"another": "yes", "anyway": "happened", "seen": "part_in_mold DECK-2A"}
    assert send(name, **known, **{**typed, "token": uuid4(), "serial": "001"}).status_code == 302


@pytest.mark.parametrize("name", ["lay_up", "pulled"])
def test_everything_is_asked_at_once(send, shop, name):
    other = add_tool(code="DECK-2B", name="Another", kind=Kind.MOLD, release_system=shop.wax)
    happened.log_pull(other, part="ZZ-99", serial="2")
    typed = {"came_off": "free", "part": "ZZ-99", "part_typed": "ZZ-99", "serial": "2, 2"}
    answer = send(name, **typed)
    keys = [ask.key for ask in answer.context["form"].asked]
    assert keys == ["part ZZ-99", "twice 2, 2", "used 2, 2"]
    assert len(errors(answer)["serial"]) == 2
    assert send(name, **typed, sure=keys).status_code == 302


def test_the_serial_that_was_laid_up_here_is_no_repetition(send, shop):
    happened.lay_up(shop.mold, part="SK520-DECK", serial="0173")
    assert send("pulled", came_off="free", part="SK520-DECK", serial="0173").status_code == 302


@pytest.mark.parametrize(("name", "field"), [("lay_up", "part_typed"), ("pulled", "part")])
def test_a_part_that_is_not_in_the_list_is_asked_about_once(send, name, field):
    typed = {"came_off": "free", field: "ZZ-99"}
    answer = send(name, **typed)
    assert errors(answer) == {field: ["There is no part ZZ-99 in the shop’s list. Write it all the same?"]}
    assert send(name, **typed, sure=["part ZZ-99"]).status_code == 302
    assert Entry.objects.last().part == "ZZ-99"


def test_what_was_laid_up_needs_no_list(send, shop):
    happened.lay_up(shop.mold, part="ZZ-99")
    assert send("pulled", came_off="free", part="ZZ-99").status_code == 302


@pytest.mark.parametrize("name", ["lay_up", "pulled"])
@pytest.mark.parametrize("at", ["earlier", "yesterday", "exact", "never"])
def test_a_day_without_its_time_is_asked_for_whatever_else_is_there(send, shop, name, at):
    happened.lay_up(shop.mold, part="SK520-DECK", serial="0173")
    typed = {"came_off": "free", "part": "SK520-DECK", "serial": "0173", "earliest": "2027-01-01T10:00"}
    assert errors(send(name, at=at, **typed)).keys() & {"at", "at_time", "at_exact"}


def test_a_form_that_is_sent_back_says_so_first_and_leads_to_the_field(send):
    answer = send("pulled", came_off="light", at="yesterday", at_time="")
    page = answer.text
    assert '<a href="#id_at_time">At what time did it come off?</a>' in page
    assert page.index("Not written:") < page.index("<h1")
    assert 'id="id_at_time"' in page
    assert 'value="light" aria-pressed="true"' in page
