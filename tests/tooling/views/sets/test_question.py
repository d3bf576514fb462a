"""A second mold or mold insert: needed as well, or in place of one that is there; what is said of it then."""

import pytest

from tests.tooling.views.sets.conftest import SET, press, told, what
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind

pytestmark = pytest.mark.django_db
ASKED = f"{SET}&ask=DECK-2B"


@pytest.fixture
def second(morning):
    return mold("DECK-2B", None, pulls=None)


def alternatives(deck):
    return list(deck.tool_set.in_order().values_list("tool__code", "alternative", "required", "order"))


@pytest.mark.parametrize("by_tool_page", [False, True])
def test_a_second_mold_is_asked_about_and_does_instead_with_one_tap(desk, deck, put, second, by_tool_page):
    (first,) = put("DECK-2A", required=False, order=2)
    if by_tool_page:
        reply = desk.post("/tools/DECK-2B/into-set/", {"part": "SK520-DECK"})
    else:
        reply = press(desk, "add", tool="deck-2b")
    assert (reply.url, what(deck)) == (ASKED, ["DECK-2A"])
    text = told(reply, desk)
    assert "DECK-2B, mold: is it needed as well, or in place of one that is there?" in text
    assert f'name="how" value="{first.pk}"' in text
    press(desk, "add", choose="DECK-2B", how=str(first.pk))
    assert alternatives(deck) == [("DECK-2A", "DECK-2A", False, 2), ("DECK-2B", "DECK-2A", False, 2)]
    assert "is it needed as well" not in desk.get(ASKED).text


def test_needed_as_well_or_an_answer_of_no_line(desk, deck, put, second):
    put("DECK-2A")
    assert press(desk, "add", choose="DECK-2B", how="999").url == ASKED
    press(desk, "add", choose="DECK-2B", how="also")
    assert alternatives(deck) == [("DECK-2A", "", True, None), ("DECK-2B", "", True, None)]


def test_an_insert_that_was_never_in_a_mold_of_the_set_is_told(desk, deck, put, morning):
    (line,) = put("DECK-2A")
    rim = mold("RIM", None, pulls=None, kind=Kind.INSERT)
    assert "RIM was never in DECK-2A, by the record." in told(press(desk, "add", tool="RIM"), desk)
    other = mold("RIM-2", None, pulls=None, kind=Kind.INSERT)
    assert "RIM-2 was never in DECK-2A" in told(press(desk, "add", tool="RIM-2"), desk)
    do("install", other, at=ago(hours=1), mold=line.tool)
    assert "was never in" not in told(press(desk, "add", tool="RIM-2"), desk)
    assert deck.tool_set.get(role="insert").tool == rim


def test_a_tool_in_the_making_and_a_retired_or_unknown_one(desk, deck, put, morning):
    mold("NEW", None, pulls=None, in_making=True)
    do("retire", mold("GONE", None, pulls=None), reason="worn")
    assert "NEW is in the set. NEW is still in the making." in told(press(desk, "add", tool="NEW"), desk)
    put("DECK-2A")
    assert "GONE is retired" in press(desk, "add", tool="GONE", how="also").text
    assert desk.get(f"{SET}&ask=NONE").context["ask"] is None
