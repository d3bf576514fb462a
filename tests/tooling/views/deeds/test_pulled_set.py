"""One part off two halves: both are written with one tap, and how it came off is said of each."""

from uuid import uuid4

import pytest

from tests.tooling.pictures import sent
from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, Kind, Summary, Tool
from tooling.selectors.pictures import of_entries
from tooling.services import deeds
from tooling.services.tools import add_tool

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture(autouse=True)
def pair(client, hand, shop):
    client.force_login(hand)
    Tool.objects.filter(pk=shop.mold.pk).update(matched_set="Deck")
    shop.mold.refresh_from_db()
    shop.other = add_tool(
        code="DECK-2C", name="Other half", kind=Kind.MOLD, release_system=shop.wax, matched_set="Deck"
    )
    happened.log_coat(shop.other)
    return [shop.mold, shop.other]


@pytest.fixture
def off(pair, hand):
    """The part is laid up in both and taken off both. Returns both pulls."""

    def taken(came_off="free"):
        said = {"part": "SK520-DECK", "serial": "0173"}
        lay_ups = deeds.lay_up_set(pair, by=None, recorded_by=None, **said)
        halves = [(one, lay_up.pk) for one, lay_up in zip(pair, lay_ups, strict=True)]
        hands = {"by": hand, "recorded_by": hand, "token": uuid4()}
        return deeds.take_off_set(halves, came_off=came_off, **said, **hands)

    return taken


def standing(tool):
    return Entry.objects.filter(tool=tool, kind="pull").standing().get()


def held(tool):
    return sorted(Summary.objects.get(tool=tool).state.get("holds", {}))


@pytest.fixture
def open_page(client, pair):
    """The page of the pull of a part that is laid up in both, and what it sends."""

    def opened(**laid_up):
        if laid_up:
            deeds.lay_up_set(pair, by=None, recorded_by=None, **laid_up)
        page = client.get("/tools/DECK-2A/pulled/")
        form = page.context["form"]
        return page.text, {name: form[name].value() or "" for name in ("part", "serial", "lay_up", "halves")}

    return opened


@pytest.mark.parametrize("laid_up", [{"part": "SK520-DECK", "serial": "0173"}, {}])
def test_one_tap_on_one_half_writes_both(client, send, pair, open_page, laid_up):
    page, typed = open_page(**laid_up)
    assert "Comes off" in page
    token = uuid4()
    for _ in range(2):
        answer = send("pulled", token=token, came_off="light", **typed)
        assert answer.url == f"/tools/DECK-2A/entries/{standing(pair[0]).number}/seen/"
    assert [(standing(one).came_off, standing(one).serial) for one in pair] == [
        ("light", laid_up.get("serial", "")), ("", laid_up.get("serial", "")),
    ]  # fmt: skip


def test_one_half_alone_when_that_is_said(send, pair, open_page):
    _page, typed = open_page(part="SK520-DECK")
    send("pulled", came_off="light", alone="on", **typed)
    assert standing(pair[0])
    assert not Entry.objects.filter(tool=pair[1], kind="pull").exists()


def test_pulled_from_both_meanwhile_it_is_asked(send, pair, open_page, lead):
    _page, typed = open_page(part="SK520-DECK", serial="0173")
    deeds.take_off_set([(one, None) for one in pair], another=True, came_off="free", by=lead, recorded_by=lead)
    assert "Not written yet." in send("pulled", came_off="tight", **typed).text
    form = send("pulled", came_off="tight", another="look", **typed).context["form"]
    kept = {name: form[name].value() or "" for name in typed}
    assert send("pulled", came_off="tight", another="yes", **kept).status_code == 302
    assert Entry.objects.filter(kind="pull").count() == 4


def test_pulled_from_the_other_half_at_this_very_moment_that_one_is_named(send, pair, open_page, lead, monkeypatch):
    _page, typed = open_page(part="SK520-DECK", serial="0173")

    def meanwhile(*_halves, **_about):
        raise deeds.PulledMeanwhile(deeds.log_pull(pair[1], came_off="free", by=lead, recorded_by=lead))

    monkeypatch.setattr(deeds, "take_off_set", meanwhile)
    page = send("pulled", came_off="tight", **typed).text
    assert 'href="/tools/DECK-2C/">See DECK-2C' in page
    assert "written on DECK-2C, and not on DECK-2A" in page
    form = send("pulled", came_off="tight", another="look", **typed).context["form"]
    assert (form["part"].value(), form["serial"].value()) == ("SK520-DECK", "0173")


def test_another_part_in_the_other_half_is_left_alone(send, pair, open_page):
    happened.lay_up(pair[1], part="ZZ-1")
    page, typed = open_page()
    assert "Comes off" not in page
    send("pulled", came_off="free", **typed)
    assert not Entry.objects.filter(tool=pair[1], kind="pull").exists()


def test_both_count_and_only_the_one_that_was_said_is_held(off, pair):
    off("stuck")
    assert [standing(one).came_off for one in pair] == ["stuck", ""]
    assert [Summary.objects.get(tool=one).total_pulls for one in pair] == [1, 1]
    assert [held(one) for one in pair] == [["hold"], []]


def test_the_other_half_is_asked_on_the_next_page_and_said_with_one_tap(client, send, off, pair):
    first, second = off()
    page = client.get(f"/tools/DECK-2A/entries/{first.number}/seen/").text
    assert "And off DECK-2C?" in page
    assert page.count('class="mark-deed"') == 10
    assert "How it came off there is not said yet." in page
    token = uuid4()
    for _ in range(2):
        answer = send("seen", number=first.number, token=token, fault="dull", **{f"came_off_{second.tool_id}": "stuck"})
    assert answer.url == f"/tools/DECK-2C/entries/{standing(pair[1]).number}/seen/"
    assert (standing(pair[0]).payload["fault"], standing(pair[1]).came_off) == ("dull", "stuck")
    assert [held(one) for one in pair] == [[], ["hold"]]
    page = client.get(answer.url).text
    assert "And off DECK-2A?" in page
    assert "What is seen on DECK-2A" in page


def test_left_open_the_pull_of_the_other_half_counts_all_the_same(send, off, pair):
    first, second = off()
    send("seen", number=first.number, fault="drag")
    assert (standing(pair[1]), Summary.objects.get(tool=pair[1]).total_pulls) == (second, 1)


def test_rubbed_out_on_one_half_it_is_gone_on_both_with_its_holds(send, off, pair):
    first, _second = off("lost")
    send("rub_out", number=first.number)
    assert not Entry.objects.filter(kind__in=("pull", "hold")).standing()
    assert [held(one) for one in pair] == [[], []]


def test_a_picture_goes_with_what_is_seen(send, off, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    first, _second = off("tight")
    answer = send("seen", number=first.number, cause="undercut", pictures=[sent(1)])
    entry = standing(first.tool)
    assert answer.url == f"/tools/DECK-2A/entries/{entry.number}/pictures/"
    assert len(of_entries([entry.pk])[entry.pk]) == 1
