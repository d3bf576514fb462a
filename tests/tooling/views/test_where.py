"""Every list and heading says where a tool is first, and its home only where that is elsewhere."""

import re

import pytest

from shared import clock
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Place, Summary
from tooling.selectors.board import board
from tooling.services.recheck import differences
from tooling.services.tools import rules

pytestmark = pytest.mark.django_db


@pytest.fixture
def drawers(morning, client, hand):
    client.force_login(hand, backend="shared.access.RoleBackend")
    Place.objects.create(code="BENCH", name="Bench 1")
    return Place.objects.create(code="DRAWERS", name="Drawers")


@pytest.fixture
def tool(drawers, morning):
    return mold("DECK", morning, place=drawers)


@pytest.mark.parametrize(
    ("deed", "more", "words", "is_away"),
    [
        ("move", {"place": "DRAWERS"}, "Drawers", False),
        ("move", {"place": "BENCH"}, "Bench 1 · home: Drawers", True),
        ("move", {"place": ""}, "nobody knows where · home: Drawers", True),
        ("lend", {"person": "The yard next door"}, "lent to The yard next door · home: Drawers", True),
        ("change_home", {"place": "BENCH"}, "Bench 1", False),
    ],
)
def test_where_it_is_comes_first(client, tool, deed, more, words, is_away):
    if "place" in more:
        more = {"place": Place.objects.filter(code=more["place"]).first()}
    do(deed, tool, at=ago(hours=1), **more)
    for address in ("/tools/?view=list", "/tools/DECK/"):
        assert f" · {words}</p>" in re.sub("</?span[^>]*>", "", client.get(address).text)
    assert [row.tool.code for row in board(clock.now()).not_home.rows] == (["DECK"] if is_away else [])
    assert bool(client.get("/tools/?home=no").context["shown"]) is is_away
    assert bool(client.get("/tools/?home=yes").context["shown"]) is not is_away
    page = client.get("/tools/DECK/").text
    lost = more.get("place", "") is None
    assert ("Put back: Drawers" in page) is (is_away and deed != "lend" and not lost)
    assert ("Found: where?" in page) is lost
    if lost:  # no thumb on the board says that it is home
        assert all("Found: where?" in client.get(address).text for address in ("/", "/racks/DRAWERS/"))
        assert "First its home: Drawers." in client.get("/tools/DECK/move/").text
    assert (">Handed back</a>" in page) is (deed == "lend")
    assert bool(client.get("/racks/DRAWERS/").context["elsewhere"]) is is_away
    assert client.get("/").status_code == 200
    assert not list(differences(rules()))


def test_an_installed_insert_and_a_retired_tool_are_not_away(client, tool, drawers, morning):
    rim, old = mold("RIM", morning, kind=Kind.INSERT, place=drawers), mold("OLD", morning, place=drawers)
    for one in (rim, old):
        do("move", one, place=Place.objects.get(code="BENCH"), at=ago(hours=3))
    assert Summary.objects.filter(away=True).count() == 2
    do("install", rim, mold=tool, at=ago(hours=2))
    do("retire", old, at=ago(hours=1))
    assert not Summary.objects.filter(away=True).exists()
    assert [one.tool.code for one in client.get("/racks/DRAWERS/").context["elsewhere"]] == ["RIM"]
    assert "It is back" not in client.get("/racks/DRAWERS/").text
    assert "in DECK</span> · home: Drawers" in client.get("/tools/RIM/").text


def test_a_loan_ends_when_it_is_handed_back_or_seen(tool, drawers):
    for number, (deed, more) in enumerate([("hand_back", {}), ("move", {"place": drawers})]):
        do("lend", tool, person="The yard next door", at=ago(hours=4 - 2 * number))
        assert Summary.objects.get(tool=tool).lies is None
        do(deed, tool, at=ago(hours=3 - 2 * number), **more)
        summary = Summary.objects.get(tool=tool)
        assert (summary.lent, summary.lent_to, summary.lies, summary.away) == (False, "", drawers.pk, False)


def test_find_by_place_lists_what_lies_there_or_below(client, tool, drawers):
    Place.objects.filter(code="BENCH").update(parent=drawers)
    for place, found in (("BENCH", 0), ("DRAWERS", 1)):
        assert len(client.get(f"/tools/?place={place}").context["shown"]) == found
    do("move", tool, place=Place.objects.get(code="BENCH"), at=ago(hours=1))
    for place in ("BENCH", "DRAWERS"):
        assert len(client.get(f"/tools/?place={place}").context["shown"]) == 1


def test_an_unknown_place_is_answered_with_those_that_look_like_it(client, drawers):
    for address in ("/p/DRAWER5/", "/racks/drawers1/"):
        reply = client.get(address)
        assert reply.status_code == 404
        assert '<a href="/racks/DRAWERS/">DRAWERS</a>' in reply.text
        assert 'href="/racks/"' in reply.text
    assert "These look like it" not in client.get("/racks/%00/").text
