"""A part's number finds the mold that it was made in and the mold inserts that were in there, and no other."""

import pytest
from django.db.models.functions import Upper

from tests.tooling.views.works import ago, do, mold, open_shop
from tooling.models import Entry, Kind, Part, Tool
from tooling.selectors.about import served
from tooling.selectors.find import with_words, words_in
from tooling.selectors.making import making
from tooling.selectors.parts import makers, makers_of_each
from tooling.services.recheck import differences
from tooling.services.tools import rules
from trimfixtures.services.deeds import log_use

pytestmark = pytest.mark.django_db


@pytest.fixture
def deck():
    return mold("DECK", open_shop(), pulls=None)


@pytest.fixture
def rim(deck):
    """An insert that was put in eight hours ago."""
    insert = mold("RIM", deck.release_system, kind=Kind.INSERT, pulls=None)
    do("install", insert, mold=deck, at=ago(hours=8))
    return insert


def pulled(tool, part, **facts):
    return do("log_pull", tool, came_off="free", part=part, **facts)


def found(text):
    return [tool.code for tool in with_words(Tool.objects.order_by("code"), words_in(text))]


@pytest.fixture(autouse=True)
def level(db):
    """Whatever was done: what is stored is what would be made anew."""
    yield
    assert [str(one) for one in differences(rules())] == []


def test_what_was_made_while_it_was_in(deck, rim):
    other = mold("SEAT", deck.release_system, kind=Kind.INSERT, pulls=None)
    pulled(deck, "K520-Deck", at=ago(hours=6))
    do("remove", rim, at=ago(hours=4))
    do("install", other, mold=deck, at=ago(hours=3))
    pulled(deck, "T300", at=ago(hours=2))
    assert (found("k520"), found("520-d"), found("t300")) == (["DECK", "RIM"], ["DECK", "RIM"], ["DECK", "SEAT"])


def test_a_pull_after_it_left_is_of_the_lay_up_that_it_was_in_for(deck, rim):
    do("lay_up", deck, at=ago(hours=6))
    do("remove", rim, at=ago(hours=4))
    pulled(deck, "T300", at=ago(hours=2))
    assert found("t300") == ["DECK", "RIM"]


def test_a_late_pull_and_a_late_installation(deck, rim):
    do("remove", rim, at=ago(hours=4))
    do("install", rim, mold=deck, at=ago(hours=1))
    pulled(deck, "T300", at=ago(hours=6))
    pulled(deck, "W70", at=ago(hours=3))
    assert (found("t300"), found("w70")) == (["DECK", "RIM"], ["DECK"])
    late = mold("SEAT", deck.release_system, kind=Kind.INSERT, pulls=None)
    do("install", late, mold=deck, at=ago(hours=5))
    assert (found("t300"), found("w70")) == (["DECK", "RIM"], ["DECK", "SEAT"])


def test_voids_and_corrections_take_it_away(deck, rim):
    pull = pulled(deck, "T300", at=ago(hours=6))
    do("correct", pull, reason="typed wrong", changes={"part": "T301"})
    assert (found("t300"), found("t301")) == ([], ["DECK", "RIM"])
    do("void", Entry.objects.get(kind="installed"), reason="was not in")
    assert found("t301") == ["DECK"]


def test_the_lot_of_a_coat_is_a_word_and_a_serial_number_is_none(deck, rim):
    do("log_coat", deck, lot="L-2231")
    pulled(deck, "T300", serial="S-0815")
    assert (found("l-2231"), found("2231"), found("0815")) == (["DECK"], ["DECK"], [])


def test_a_pull_of_a_part_that_is_known_makes_no_words(deck, rim, django_assert_max_num_queries):
    pulled(deck, "T300", at=ago(hours=6))
    stored = [tool.search_text.text for tool in Tool.objects.select_related("search_text")]
    with django_assert_max_num_queries(60) as sent:
        pulled(deck, "T300", at=ago(hours=5))
    assert not [one for one in sent.captured_queries if 'INTO "tooling_searchtext"' in one["sql"]]
    assert stored == [tool.search_text.text for tool in Tool.objects.select_related("search_text")]


def test_filter_parts_and_tool_pages_give_one_answer(deck, rim):
    """Laid up with RIM in, which leaves; pulled without it; then SEAT, and a part that only the mold made."""
    do("lay_up", deck, at=ago(hours=7), part="T300")
    do("remove", rim, at=ago(hours=6))
    pulled(deck, "t300", at=ago(hours=5))
    seat = mold("SEAT", deck.release_system, kind=Kind.INSERT, pulls=None)
    pulled(deck, "W70", at=ago(hours=4), count=3)
    do("install", seat, mold=deck, at=ago(hours=3))
    pulled(deck, "W70", at=ago(hours=2), count=2)
    void = pulled(deck, "W70", at=ago(hours=1))
    do("void", void, reason="another mold")
    mask = mold("MASK", None, kind=Kind.TRIM_MASK, pulls=None)
    log_use(mask, by=None, recorded_by=None, at=ago(hours=1), count=4, part="w70")
    do("set_interval", deck, count=9, part="T300", evidence="tests", at=ago(hours=1))
    for number, tools in (("T300", {"DECK": 1, "RIM": 1}), ("w70", {"DECK": 5, "SEAT": 2, "MASK": 4}), ("T3", {})):
        assert {one.tool.code: one.count for one in makers(number)} == tools
        named = [one.code for one in Tool.objects.order_by("code") if number.upper() in _served(one)]
        assert named == sorted(tools) == [one.code for one in making(Tool.objects.order_by("code"), [number])]
        part = Part.objects.create(number=number.upper())
        assert makers_of_each([Part.objects.annotate(key=Upper("number")).get(pk=part.pk)]) == {part.pk: sorted(tools)}


def _served(tool):
    return [one.number.upper() for one in served(tool)]
