"""A late deed, a void and a correction say what they do to today's state, before they are written."""

from datetime import timedelta
from pathlib import Path
from uuid import uuid4

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from shared import clock
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Summary, Tool
from tooling.views import deeds as deed_views

pytestmark = [pytest.mark.django_db, pytest.mark.both]
NOON = "2026-07-08T12:00:00Z"
LATE = {"at": "earlier", "at_time": "9.30"}


@pytest.fixture(autouse=True)
def noon():
    with time_machine.travel(NOON, tick=False):
        yield


@pytest.fixture
def used(shop, client, lead, noon):
    """The mold of a shop, coated two days ago, with two of its three pulls done yesterday; a lead is signed in."""
    client.force_login(lead, backend="shared.access.RoleBackend")
    with time_machine.travel(clock.now() + timedelta(days=1), tick=False):
        happened.log_pull(shop.mold, came_off="free", count=2)
    with time_machine.travel(clock.now() + timedelta(days=2), tick=False):
        yield shop


@pytest.fixture
def press(client, lead):
    """Posts a form as it is filled in, without what the page would have shown."""

    def post(name, number=None, **typed):
        where = {"code": "DECK-2A"} if number is None else {"code": "DECK-2A", "number": number}
        return client.post(reverse(name, kwargs=where), {"token": str(uuid4()), "at": "now", "by": lead.pk, **typed})

    return post


def last():
    return Entry.objects.order_by("id").last()


def test_a_late_pull_is_shown_first_and_written_when_it_is_pressed_again(press, used):
    before, token = Entry.objects.count(), str(uuid4())
    page = press("pulled", came_off="free", token=token, serial="0173", **LATE)
    assert Entry.objects.count() == before
    text = page.text
    assert "Last pull, then wax." in text
    assert "Wax first: 3 of 3 pulls done. One coat." in text
    assert "HATCH7" in text
    assert 'name="came_off" value="free">Write it down' in text
    assert 'value="0173"' in text
    shown = page.context["form"].would.key
    assert press("pulled", came_off="free", token=token, serial="0173", shown=shown, **LATE).status_code == 302
    assert (
        press("pulled", came_off="free", token=token, serial="0173", **LATE).status_code == 302
    )  # its answer got lost
    assert Entry.objects.count() == before + 1
    assert "Wax first" in page.context["form"].would.changes[0].then


def test_what_no_longer_holds_is_shown_anew(press, used):
    shown = press("pulled", came_off="free", **LATE).context["form"].would.key
    happened.log_pull(used.mold, came_off="free")
    before = Entry.objects.count()
    page = press("pulled", came_off="free", shown=shown, another="yes", **LATE)
    assert (page.status_code, Entry.objects.count()) == (200, before)
    assert "1 pull past the wax line" in page.text
    # the pull that was on time is late by this one
    flags = page.context["form"].would.changes[0].come.words
    assert flags == ("It was used although it wanted a coat or a strip. (Fri 10 Jul 13:00)",)


def test_a_late_deed_that_changes_nothing_today_wants_no_second_press(press, used):
    assert press("hold", words="chip").status_code == 302
    assert press("looked_at", passed="yes").status_code == 302
    with time_machine.travel(clock.now() + timedelta(hours=1), tick=False):
        happened.strip(used.mold)
        happened.strip(used.insert)
        assert press("strip", **LATE).status_code == 302


def test_a_void_says_it_at_once_and_is_one_press(client, press, used):
    number = last().number
    page = client.get(f"/tools/DECK-2A/entries/{number}/void/")
    assert "Last pull, then wax." in page.text
    assert "Ready: 3 pulls, then wax." in page.text
    shown = page.context["form"].would.key
    assert press("void", number, because="twice", shown=shown).status_code == 302
    assert last().payload["reason"] == "logged twice"
    assert Summary.objects.get(tool=used.mold).since_coat == 0


def test_a_void_that_was_not_seen_is_shown_first(press, used):
    pull = last()
    page = press("void", pull.number, because="tapped", why="glove")
    assert "Not written yet" in page.text
    assert last() == pull


def test_a_correction_is_always_shown_even_where_nothing_changes_today(client, press, used):
    pull = last()
    form = client.get(f"/tools/DECK-2A/entries/{pull.number}/correct/").context["form"]
    typed = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    typed |= {"because": "tapped", "came_off": "light"}
    page = press("correct", pull.number, **typed)
    assert "Today nothing changes: Last pull, then wax." in page.text
    assert last() == pull
    typed |= {"came_off": "stuck"}
    page = press("correct", pull.number, **typed)
    assert "Held" in page.context["form"].would.changes[0].then
    assert press("correct", pull.number, **typed, shown=page.context["form"].would.key).status_code == 302
    pull = Entry.objects.filter(kind="pull").latest("pk")
    assert (pull.came_off, pull.payload["why"], last().kind) == ("stuck", "tapped wrong", "hold")


def test_an_open_page_asks_and_nothing_is_written(press, used):
    before = Entry.objects.count()
    page = press("pulled", look="1", **LATE)  # no mark is tapped yet
    assert "<html" not in page.text
    assert "Wax first" in page.text
    assert "Write it down" not in page.text
    for name, typed in (
        ("pulled", {}),
        ("strip", {}),
        ("hold", {"words": "chip"}),
        ("move", {}),
        ("film", {"lot": "x"}),
    ):
        assert press(name, look="1", **typed).text.strip() == ""
    assert Entry.objects.count() == before


def test_it_is_worked_out_without_a_lock(press, used):
    with CaptureQueriesContext(connection) as asked:
        press("pulled", came_off="free", **LATE)
    words = [query["sql"].split()[0] for query in asked.captured_queries]
    assert not {"BEGIN", "INSERT", "UPDATE", "DELETE", "SAVEPOINT"} & set(words)


def test_on_the_wrong_tool_it_is_void_here_and_written_there_in_one_step(client, press, used):
    other = Tool.objects.create(code="DECK-2B", name="Deck", kind="mold", release_system=used.wax)
    Summary.objects.create(tool=other)
    happened.log_coat(other)
    pull = Entry.objects.get(tool=used.mold, kind="pull")
    typed = {"because": "tool", "right_tool": "deck-2b", "token": str(uuid4())}
    page = press("void", pull.number, **typed)
    assert [one.tool.code for one in page.context["form"].would.changes] == ["DECK-2A", "DECK-2B", "HATCH7"]
    for _ in range(2):
        shown = page.context["form"].would.key
        assert press("void", pull.number, shown=shown, **typed).status_code == 302
    there, void = Entry.objects.get(tool=other, kind="pull"), Entry.objects.get(tool=used.mold, kind="void")
    assert (there.at, there.by, there.count, there.came_off) == (pull.at, pull.by, 2, "free")
    assert (void.voids, void.payload["reason"]) == (pull, "wrong tool: it was DECK-2B")
    assert "Logged on DECK-2A first, by mistake." in client.get("/tools/DECK-2B/").text
    assert Summary.objects.get(tool=other).total_pulls == 2
    assert Summary.objects.get(tool=used.mold).since_coat == 0


@pytest.mark.parametrize(("code", "words"), [("NOPE", "There is no tool NOPE."), ("COAM-TRIM", "is a trim mask")])
def test_a_tool_that_cannot_be_right_is_refused_and_both_stay(press, used, code, words):
    before = Entry.objects.count()
    answer = press("void", last().number, because="tool", right_tool=code)
    assert words in str(errors(answer))
    assert Entry.objects.count() == before


def test_no_reason_is_asked_for(press, used):
    assert "Say why" in errors(press("void", last().number))["why"][0]


@pytest.mark.parametrize("typed", ["14:05", "1405", "14.05"])
def test_a_time_is_typed_as_people_write_it(press, used, typed):
    with time_machine.travel("2026-07-10T20:00:00Z", tick=False):
        for when in ({"at": "earlier", "at_time": typed}, {"at": "exact", "at_exact": f"2026-07-10 {typed}"}):
            form = press("hold", words="chip", look="1", **when).context["form"]
            assert f"{form.cleaned_data['at']:%H:%M}" == "13:05"  # UTC; Lisbon is an hour ahead


@pytest.mark.parametrize(("which", "utc"), [("first", "00:30"), ("second", "01:30")])
def test_an_hour_that_came_twice_is_asked_about(client, press, used, lead, which, utc):
    with time_machine.travel("2026-10-25T12:00:00Z", tick=False):
        client.force_login(lead, backend="shared.access.RoleBackend")
        typed = {"at": "earlier", "at_time": "01:30", "words": "chip"}
        page = press("hold", **typed)
        assert "showed this time twice" in errors(page)["at_time"][0]
        assert "the second time, an hour later" in page.text
        form = press("hold", **typed, of_two=which, look="1").context["form"]
    assert f"{form.cleaned_data['at']:%H:%M}" == utc


def test_no_view_of_a_deed_goes_round_it():
    folder = Path(deed_views.__file__).parent
    around = {path.name for path in folder.glob("*.py") if "form.said()" in path.read_text()}
    assert around == {"seen.py", "how_off.py"}  # they say more of a pull, and have no time of their own
