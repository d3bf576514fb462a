"""Which alternatives of a tool set are offered together: halves that close on one part, and what is of their hand."""

import pytest

from tests.tooling.selectors.test_tool_set import answer
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Kind, Part, SetLine
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def put(shop):
    """Puts a tool into the set; its first letter says of which pair it is."""
    revision = Part.objects.get().revisions.select_related("part").get()

    def _put(code, word="", kind=Kind.MOLD, pair=None, **columns):
        system = shop.wax if kind != Kind.TRIM_MASK else None
        pair = code[0] if pair is None and kind == Kind.MOLD else pair or ""
        tool = add_tool(code=code, name=code, kind=kind, release_system=system, matched_set=pair, **columns)
        if system is not None:
            happened.log_coat(tool)
        SetLine.objects.create(revision=revision, role=kind, tool=tool, alternative=word)
        return tool

    return _put


def offered():
    found = answer(Part.objects.get().revisions.select_related("part").get())
    return found, [one.line.what for one in found.lines if one.offered]


@pytest.mark.parametrize("held", ["", "A-TOP", "A-LOW"])
def test_of_two_pairs_that_stand_alike_one_is_offered_whole(put, held):
    tools = {code: put(code, code[2:]) for code in ("A-TOP", "B-TOP", "B-LOW", "A-LOW")}
    if held:
        happened.hold(tools[held], reason="chip")
    found, codes = offered()
    pair = "B" if held else "A"
    assert (found.usable, codes) == (True, [f"{pair}-TOP", f"{pair}-LOW"])
    assert found.lines[2].why == f"{pair}-LOW closes on one part with {pair}-TOP."


def test_a_half_goes_with_the_half_that_has_no_alternative(put):
    put("B-TOP", "TOP", pair="")
    put("A-TOP", "top")
    put("A-LOW")
    found, codes = offered()
    assert (found.usable, codes) == (True, ["A-TOP", "A-LOW"])
    assert found.lines[0].why == "A-TOP closes on one part with A-LOW."


def test_a_half_whose_other_half_is_not_used_may_not_be_used(put):
    for code, word in (("A-TOP", "top"), ("B-TOP", "top"), ("A-LOW", ""), ("B-LOW", "")):
        put(code, word)
    found, codes = offered()
    assert (found.usable, codes) == (False, ["A-TOP", "A-LOW", "B-LOW"])
    (reason,) = found.lines[-1].reasons
    assert (reason.code, reason.override) == ("half_missing", "lead")
    assert reason.text == "It closes on one part with B-TOP, not with A-TOP."


def test_a_new_half_stands_in_for_a_retired_one(put):
    happened.retire(put("A-OLD", "top"), reason="cracked")
    put("A-TOP", "top")
    put("A-LOW")
    found, codes = offered()
    assert (found.usable, codes) == (True, ["A-TOP", "A-LOW"])


def test_what_is_used_with_the_offered_mold_is_of_its_hand(put):
    left, _right = put("LEFT", "m", pair="", hand="L"), put("RIGHT", "m", pair="", hand="R")
    for code in ("TRIM-L", "TRIM-R"):
        put(code, "t", Kind.TRIM_MASK, hand=code[-1])
    assert offered()[1] == ["LEFT", "TRIM-L"]
    happened.hold(left, reason="chip")
    found, codes = offered()
    assert (found.usable, codes) == (True, ["RIGHT", "TRIM-R"])
    assert [one.code for one in found.lines[3].reasons] == ["wrong_hand"]
    assert found.lines[3].reasons[0].text == "TRIM-L is left-hand, and RIGHT is not."


def test_the_mold_is_offered_for_whose_hand_there_is_what_it_needs(put):
    put("RIGHT", "m", pair="", hand="R")
    left = put("LEFT", "m", pair="", hand="L")
    put("TRIM-L", kind=Kind.TRIM_MASK, hand="L")
    found, codes = offered()
    assert (found.usable, codes) == (True, ["LEFT", "TRIM-L"])
    assert found.lines[0].why == "LEFT is of the hand of what is used with it."
    happened.retire(left, reason="cracked")
    assert not offered()[0].usable
