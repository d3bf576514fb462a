"""The family of a tool: its page, its paper, and its line on the tool's own page."""

import pytest

from tests.shared.paper.needs import pango
from tests.tooling.views.test_tool_sheet import pages
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Summary, Tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def plug(morning):
    plug = mold("P-1", morning, kind=Kind.PLUG)
    deck = mold("DECK", morning, made_from=plug)
    mold("DECK-2", morning, made_from=plug, in_place_of=deck)
    do("log_pull", deck, at=ago(hours=2), came_off="free", part="SK/1")
    return plug


@pytest.fixture
def look(sign_in):
    client = sign_in("reader")
    return lambda address: client.get(address)


def test_the_page_says_who_belongs_to_whom(plug, look):
    reply = look("/tools/DECK/family/")
    text = " ".join(reply.text.split())
    for words in (
        '<dt>Comes from</dt><dd><a class="nb" href="/tools/P-1/family/">P-1</a>',
        "<dt>Its place was taken by</dt>",
        "By its record it can be made again from P-1",
        "in the place of DECK",
        "1 of SK/1",
        "DECK as it was laid on P-1. 1 more came off it.",
    ):
        assert words in text
    Summary.objects.filter(tool__code="DECK").update(total_pulls=201)
    reply = look("/tools/DECK/family/")
    assert '1 × <a class="nb" href="/parts/SK/1/">SK/1</a> <span class="soft">of 201 pulls in all</span>' in reply.text
    assert "201 pulls in all, written down as parts: 1 of SK/1" in reply.text
    assert "If it went, these could not be made again: DECK, DECK-2." in look("/tools/P-1/family/").text


def test_what_it_took_stands_there_in_the_readers_units(plug, look):
    do(
        "make_step",
        plug,
        at=ago(hours=30),
        step="skin",
        work="skin",
        minutes=150,
        material="resin",
        value="4",
        unit="kg",
    )
    reply = look("/tools/DECK/family/")
    assert ">2 h 30 min of work, 4 kg of resin so far, still in the making</a>" in reply.text


def test_the_page_of_the_tool_says_it_in_one_line(plug, look):
    assert "By its record it can be made again from P-1" in look("/tools/DECK/").text
    do("retire", plug, at=ago(hours=1), reason="worn")
    text = look("/tools/DECK/").text
    assert "It cannot be made again as it was: P-1, which it was made from, is retired." in text
    assert "Since it is retired nothing is left to make again from: DECK, DECK-2." in look("/tools/P-1/").text


def test_other_codes_and_tools_that_are_not_there(plug, look):
    assert look("/tools/deck/family/").url == "/tools/DECK/family/"
    assert look("/tools/deck/family.pdf?paper=a4").url == "/tools/DECK/family.pdf?paper=a4"
    for address in ("/tools/NONE/family/", "/tools/NONE/family.pdf"):
        assert look(address).status_code == 404


@pytest.mark.parametrize("kind", Kind.values)
def test_one_that_nothing_is_known_of_has_a_page_as_well(look, kind):
    mold("LONE", None, kind=kind, pulls=None)
    assert look("/tools/LONE/family/").status_code == 200


def test_a_large_family_stays_a_page(plug, look, morning):
    made = (Tool(code=f"M-{n}", name="Mold", kind=Kind.MOLD, made_from=plug) for n in range(200))
    Summary.objects.bulk_create(Summary(tool=one) for one in Tool.objects.bulk_create(made))
    reply = look("/tools/P-1/family/")
    assert "and 190 more, below" in reply.text
    assert len(reply.content) < 150_000


@pango
def test_the_same_on_paper(plug, look):
    said = " ".join(pages(look("/tools/DECK/family.pdf?paper=a4").getvalue()))
    for words in ("Family", "DECK-2", "By its record it can be made again from P-1", "in the place of DECK", "1 of 1"):
        assert words in " ".join(said.split())
