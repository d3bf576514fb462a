"""Can it be made again: by all that is known of its plug; and what could not be if the plug went."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.views.conftest import morning
from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Kind, Part, PartRevision, Place, PlugRecord, SetLine, Tool
from tooling.selectors.made_again import lost_with, made_again
from tooling.words import made_again as words

__all__ = ["morning"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def plug(morning):
    plug = mold("P-1", morning, kind=Kind.PLUG, place=Place.objects.create(code="LOFT", name="Loft"))
    mold("DECK", morning, made_from=plug)
    return plug


def again(code="DECK"):
    return made_again([Tool.objects.get(code=code)], NOW)[Tool.objects.get(code=code).pk]


def test_from_a_plug_that_is_ready(plug):
    assert (again().verdict, again().said) == ("yes", "By its record it can be made again from P-1 (Loft).")


@pytest.mark.parametrize(
    ("deed", "facts", "verdict", "said"),
    [
        ("retire", {"reason": "worn"}, "no", "P-1, which it was made from, is retired."),
        ("hold", {"reason": "cracked"}, "yes_after", "Held"),
        ("move", {"place": None}, "yes_after", "Nobody knows where it is"),
        (
            "lend",
            {"person": "Mara", "until": date(2026, 6, 1)},
            "yes_after",
            "from P-1, but first: P-1 is lent to Mara until",
        ),
        ("make_step", {"step": "primer"}, "yes_after", "In the making"),
        ("strip", {}, "yes_after", "P-1 (Loft), but first: No coat on: 1 wanted."),
    ],
)
def test_from_a_plug_that_is_not(plug, deed, facts, verdict, said):
    do(deed, plug, at=ago(hours=2), **facts)
    found = again()
    assert found.verdict == verdict
    assert said in " ".join([found.said, *found.reasons])


def test_a_plug_out_of_the_house_has_to_come_back(plug):
    out = Place.objects.create(code="YARD", name="Yard", kind="outside")
    do("move", plug, at=ago(hours=2), place=Place.objects.create(code="YARD-1", name="Yard shed", parent=out))
    found = again()
    assert (found.verdict, found.reasons) == (
        "yes_after", ("P-1 is out of the house, at Yard shed: it has to come back.",)
    )  # fmt: skip


def test_a_loan_that_is_over_is_said_once_with_what_to_do(plug):
    do("lend", plug, at=ago(hours=60), person="Mara", until=date(2026, 5, 11))
    assert again().brief == (
        "It can be made again from P-1, but first: P-1 is lent to Mara, not back since yesterday: have it back."
    )


def test_of_one_whose_place_is_taken_no_more_is_said(plug, morning):
    deck = Tool.objects.get(code="DECK")
    do("retire", deck, at=ago(hours=2), reason="worn")
    assert again().source == plug
    mold("DECK-2", morning, made_from=plug, in_place_of=deck)
    assert (again().brief, again().reasons, again().source) == ("DECK-2 took its place.", (), None)


def test_what_took_the_place_of_a_retired_plug_stands_for_it(plug, morning):
    do("retire", plug, at=ago(hours=2), reason="worn")
    mold("P-2", morning, kind=Kind.PLUG, in_place_of=plug)
    found = again()
    assert (found.verdict, found.source.code, found.notes) == ("yes", "P-2", ("P-1 is retired; P-2 took its place.",))


def test_where_no_plug_is_named_nobody_can_say_but_for_one_that_was_milled_itself(plug, morning):
    bare, milled = mold("BARE", morning), mold("CUT", morning, design_ref="D-7")
    PlugRecord.objects.create(tool=milled)
    found = made_again([bare, milled], NOW)
    assert [found[one.pk].verdict for one in (bare, milled)] == ["unknown", "yes_after"]
    assert "D-7" in found[milled.pk].said


def test_its_readings_are_said_without_a_verdict(plug):
    for hours, value in ((9, "85"), (2, "62")):
        do("take_reading", plug, at=ago(hours=hours), quantity="gloss", value=value, unit="GU", instrument="meter")
    assert again().verdict == "yes"
    assert again().notes == ("Gloss: 85 GU (yesterday) at first, 62 GU (today) last.",)


def test_the_queries_do_not_grow(plug, morning, django_assert_num_queries):
    deck = Tool.objects.select_related("summary").get(code="DECK")
    with CaptureQueriesContext(connection) as one:
        made_again([deck], NOW)
    for n in range(6):
        mold(f"D-{n}", morning, pulls=None, made_from=mold(f"Q-{n}", morning, pulls=None, kind=Kind.PLUG))
    tools = list(Tool.objects.filter(kind=Kind.MOLD).select_related("summary"))
    with django_assert_num_queries(len(one)):
        made_again(tools, NOW)


def _part(number, *molds, alternative=""):
    revision = PartRevision.objects.create(part=Part.objects.create(number=number), name=number)
    for tool in molds:
        SetLine.objects.create(revision=revision, role="mold", tool=tool, alternative=alternative)


def test_what_hangs_on_a_plug_alone(plug, morning):
    deck, hull = Tool.objects.get(code="DECK"), mold("HULL", morning)
    copy = mold("COPY", morning, made_from=plug)
    mold("SPLASH", morning, kind=Kind.PLUG, made_from=copy)
    do("log_pull", deck, at=ago(hours=2), came_off="free", part="free part")
    _part("both", deck, hull)
    _part("either", deck, hull, alternative="deck")
    found = lost_with(plug)
    assert ([one.code for one in found.tools], found.parts) == (["DECK"], ["both", "free part"])
    after = mold("P-2", morning, kind=Kind.PLUG, in_place_of=plug)
    assert lost_with(plug).tools == []
    do("hold", after, at=ago(hours=1), reason="cracked")
    found = lost_with(plug)
    assert [one.code for one in found.tools] == ["DECK"]
    assert words.lost(found, retired=False)[-1] == "P-2 is in its place, but held."
