"""A mold comes off its plug: one page, one tap, and both are written."""

import re
from types import SimpleNamespace
from uuid import uuid4

import pytest

from tests.fixtures.once import once
from tests.tooling.pictures import sent
from tests.tooling.views.deeds.conftest import errors, happened, open_works
from tooling.models import Entry, Kind, Picture, Place, Summary, TagPrint, Tool
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@once
def on_the_plug():
    wax = open_works().wax
    plug = add_tool(code="14-PLUG", kind=Kind.PLUG, name="Hull plug", release_system=wax, owner="Otter Sea School")
    mold = add_tool(code="14.HULL", kind=Kind.MOLD, name="Hull", in_making=True, release_system=wax)
    happened.make_step(mold, step="curing")
    happened.log_coat(plug)
    happened.lay_up(plug, part="14.HULL")
    return SimpleNamespace(plug=plug, mold=mold)


@pytest.fixture
def works(db):
    return on_the_plug()


def pulls():
    return Entry.objects.filter(kind="pull").standing()


ADDRESS = "/tools/14-PLUG/take-off/"


@pytest.fixture
def off(client):
    """Sends the page of one that comes off as a browser would: all that stands in its fields, and what is typed."""

    def post(which, kind="mold", **typed):
        form = client.get(ADDRESS, {"which": which, "kind": kind}).context.get("form")
        stands = {name: form[name].value() for name in form.fields} if form is not None else {}
        sent = {"which": which, "kind": kind, **stands, "at": "now", **typed}
        lay_up = Entry.objects.get(kind="lay_up").pk
        return client.post(ADDRESS, {"lay_up": lay_up, **{name: value for name, value in sent.items() if value}})

    return post


def test_the_page_of_the_plug_leads_there_and_the_one_on_it_comes_first(client, hand, works):
    client.force_login(hand)
    assert 'href="/tools/14-PLUG/take-off/"' in client.get("/tools/14-PLUG/").text
    page = client.get("/tools/14-PLUG/take-off/").text
    assert "14.HULL comes off it" in page
    assert 'name="which" value="14.HULL"' in page
    assert page.count('class="mark-deed"') == 4  # what is lost is no tool


def test_what_is_said_of_the_lift_names_what_comes_off_and_what_stays(client, lead, works):
    Tool.objects.filter(pk=works.plug.pk).update(mass_kg=140, lift="hoist with two slings")
    client.force_login(lead)
    stays = "14-PLUG, which stays: 140 kg. Lift: hoist with two slings."
    ask = "not weighed, no words for its lift: ask the lead first."
    assert client.get(ADDRESS).context["to_lift"] == [f"14.HULL: {ask}", stays]
    assert client.get(ADDRESS, {"which": "new"}).context["to_lift"] == [f"What comes off: {ask}", stays]
    Tool.objects.filter(pk=works.mold.pk).update(mass_kg=31, lift="two people")
    page = client.get(ADDRESS).text
    assert '<p class="says lift">14.HULL: 31 kg. Lift: two people.</p>' in page
    assert "slings slack" in page


def test_one_tap_writes_the_pull_and_the_beginning_of_the_mold(client, hand, off, works):
    client.force_login(hand)
    token, place = uuid4(), Place.objects.create(code="BENCH", name="bench 1")
    for _time in range(2):
        answer = off("14.HULL", token=token, came_off="light", place=place.pk, step="Off the plug")
        assert answer.url == "/tools/14.HULL/"
    assert pulls().get().part == "14.HULL"
    summary = Summary.objects.get(tool=works.mold)
    assert (summary.step, summary.seen_place, summary.making) == ("Off the plug", place, True)
    assert "14.HULL is off 14-PLUG, and in the making." in client.get(answer.url).text


def test_the_strip_takes_all_of_it_back_with_one_tap(client, hand, off, works):
    client.force_login(hand)
    page = client.get(off("14.HULL", came_off="free", step="Off the plug").url).text
    assert "Taken off 14-PLUG, free." in page
    assert "On 14-PLUG as well: rubbing out takes it back there too." in page
    token = uuid4()
    for _time in range(2):
        client.post(re.search(r'action="(/tools/14.HULL/entries/\d+/rub-out/)"', page)[1], {"token": token})
    assert not pulls().exists()
    summary = Summary.objects.get(tool=works.mold)
    assert (summary.step, summary.retired) == ("curing", False)
    assert not Entry.objects.filter(tool=works.mold, kind="starting_state").standing().exists()
    assert Summary.objects.get(tool=works.plug).part == "14.HULL"  # it lies on the plug again
    assert off("14.HULL", came_off="light").status_code == 302


@pytest.mark.parametrize("more", [False, True])
def test_a_new_tool_is_taken_back_with_the_pull_where_nothing_more_is_written(client, lead, off, works, more):
    client.force_login(lead)
    off("new", code="HATCH-9", came_off="free")
    new = Tool.objects.get(code="HATCH-9")
    if more:
        happened.make_step(new, step="framed")
    answer = client.post(f"/tools/14-PLUG/entries/{pulls().get().number}/rub-out/", {"token": uuid4()}, follow=True)
    assert not pulls().exists()
    assert Summary.objects.get(tool=new).retired is not more
    assert Tool.objects.get(pk=new.pk).made_from == (works.plug if more else None)
    assert "Rubbed out: Taken off 14-PLUG, free. It counts no more. On HATCH-9 as well." in answer.text
    assert ("HATCH-9 is retired, as taken off by mistake" in answer.text) is not more


def test_a_pull_that_was_logged_before_stays_when_what_came_off_is_rubbed_out(client, lead, off, works):
    client.force_login(lead)
    pull = happened.take_off(works.plug, lay_up=Entry.objects.get(kind="lay_up").pk, came_off="free")
    off("new", code="14.TOP", written=pull.number)
    new = Tool.objects.get(code="14.TOP")
    last = new.entries.order_by("-number").first()
    client.post(f"/tools/14.TOP/entries/{last.number}/rub-out/", {"token": uuid4()})
    assert (pulls().count(), Summary.objects.get(tool=new).retired) == (1, True)


def test_after_a_hard_pull_somebody_looks_at_the_plug(client, hand, off, works):
    client.force_login(hand)
    answer = off("14.HULL", came_off="stuck")
    assert answer.url == f"/tools/14-PLUG/entries/{pulls().get().number}/seen/"
    assert Summary.objects.get(tool=works.plug).held_since is not None
    answer = off("14.HULL", came_off="lost")
    assert errors(answer)["came_off"] == ["What was lost is no tool: log the pull alone."]


def test_a_lead_brings_in_a_new_one_and_nothing_typed_is_lost(client, lead, off, works):
    client.force_login(lead)
    page = client.get(ADDRESS, {"which": "new", "kind": "insert"}).context["form"]
    proposed = [page[name].value() for name in ("code", "name", "owner")]
    assert proposed == ["14-INSERT", "Hull mold insert", "Otter Sea School"]
    typed = {"came_off": "free", "kind": "insert", "mass_kg": "12", "construction": "6 mm glass"}
    wrong = off("new", **typed, code="deck-2a", picture=sent())
    assert errors(wrong)["code"] == ["DECK-2A is there already. Give it another code."]
    assert "This one is kept." in wrong.text
    assert not pulls().exists()
    kept = wrong.context["form"]["kept"].value()
    answer = off("new", **typed, code="HATCH-9", kept=kept)
    assert answer.url == "/tools/HATCH-9/"
    new = Tool.objects.get(code="HATCH-9")
    assert (new.kind, new.made_from, new.construction, new.mass_kg) == ("insert", works.plug, "6 mm glass", 12)
    assert Picture.objects.get(tool=new).main
    assert TagPrint.objects.get(tool=new).wanted == "new"


def test_another_one_like_one_before_it_but_for_what_nobody_has_weighed(client, lead, works):
    client.force_login(lead)
    like = {"name": "Deck, cut down", "construction": "6 mm glass", "mass_kg": 46, "lift": "two"}
    add_tool(code="DECK-7A", kind=Kind.MOLD, made_from=works.plug, release_system=works.plug.release_system, **like)
    add_tool(code="HULL-7", kind=Kind.MOLD, name="Hull", made_from=works.plug)
    page = client.get(ADDRESS, {"which": "new"})
    assert 'href="?which=new&amp;kind=mold&amp;like=DECK-7A"' in page.text
    form = client.get(ADDRESS, {"which": "new", "kind": "mold", "like": "DECK-7A"}).context["form"]
    proposed = {name: form[name].value() for name in ("code", "recipe", *like)}
    assert proposed == {
        **like, "code": "DECK-7B", "recipe": works.plug.release_system.code, "mass_kg": "", "lift": "",
    }  # fmt: skip


def test_a_hand_logs_the_pull_and_a_lead_brings_in_what_is_new(client, hand, off, works):
    client.force_login(hand)
    before = Tool.objects.count()
    page = off("new", code="NEW-1", came_off="free").text
    assert "A lead brings in what is new." in page
    assert (Tool.objects.count(), pulls().count()) == (before, 0)


def test_a_pull_that_was_logged_before_is_not_logged_again(client, lead, off, works):
    client.force_login(lead)
    pull = happened.take_off(works.plug, lay_up=Entry.objects.get(kind="lay_up").pk, came_off="free")
    page = client.get("/tools/14-PLUG/take-off/?which=new").text
    number = re.search(r'name="written" value="(\d+)"', page)[1]
    assert int(number) == pull.number
    off("new", code="14.TOP", written=number)
    assert (pulls().get().replaces, pulls().get().part) == (pull, "14.TOP")
    assert Tool.objects.get(code="14.TOP").made_from == works.plug


def test_a_pull_of_a_moment_ago_is_asked_about(client, hand, off, works):
    client.force_login(hand)
    lay_up = Entry.objects.get(kind="lay_up").pk
    happened.take_off(works.plug, lay_up=lay_up, came_off="free", part="SPLASH")
    asked = off("14.HULL", came_off="free")
    assert "somebody wrote a pull here a moment ago" in asked.text
    assert "It is that pull" in asked.text
    assert off("14.HULL", came_off="free", another=asked.context["form"]["another"].value()).status_code == 302
    assert pulls().count() == 2


def test_a_place_that_carries_too_little_is_asked_about(client, lead, off, works):
    client.force_login(lead)
    rack = Place.objects.create(code="B-2", name="rack B", max_load_kg=30)
    said = {"came_off": "free", "place": rack.pk, "mass_kg": "31"}
    asked = off("14.HULL", **said)
    assert errors(asked)["place"] == ["rack B would carry 31 kg then, and its limit is 30 kg."]
    assert not pulls().exists()
    button = rf'form="off" name="sure" value="heavy {rack.pk}">Put it there all the same<small>It came off: free<'
    assert re.search(button, asked.text)
    assert '<input type="hidden" name="came_off" value="free">' in asked.text
    assert off("14.HULL", **said, sure=f"heavy {rack.pk}").status_code == 302


def test_a_station_is_asked_whose_hands(client, station, off, works):
    client.force_login(station)
    assert errors(off("14.HULL", came_off="free"))["by"]
    assert not pulls().exists()


def test_a_lay_up_on_the_plug_offers_what_is_to_come_off_it(client, hand, works):
    client.force_login(hand)
    add_tool(code="14.TOP", kind=Kind.MOLD, name="Top", in_making=True, made_from=works.plug)
    happened.abandon(works.plug, reason="torn")
    page = client.get("/tools/14-PLUG/lay-up/?part=14.TOP").context["form"]
    assert page["part"].value() == "14.TOP"
