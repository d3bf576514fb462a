"""Every status has its sentence, in the words of the recipe's family."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.tooling.words.samples import FIVE_COATS, NOW, ONE_COAT, SOON, ZONE, status
from tooling.calc.status import ORDER, Need
from tooling.words.status import making, sentence

WAX, RELEASE, OTHER = "paste_wax", "semi_permanent", "other"
LATER = NOW + timedelta(days=1, hours=8)

SAID = [
    (WAX, status("retired"), "Retired: out of use for good."),
    (WAX, status("held", why=("hold", "tool_damaged")), "Held: somebody stopped it, it was marked at a pull."),
    (WAX, status("part_in_mold", ready_at=SOON), "Part in the mold, not before 16:10."),
    (WAX, status("part_in_mold", ready_at=LATER), "Part in the mold, not before tomorrow 15:40."),
    (WAX, status("part_in_mold", ready_at=NOW), "Time is up: check it is hard."),
    (WAX, status("part_in_mold"), "Part in the mold, and no time was set for it."),
    (WAX, status("needs_strip", why=("build_up",), need=FIVE_COATS), "Strip first: build-up seen. Then five coats."),
    (WAX, status("not_prepared", need=FIVE_COATS), "No coat on: 5 wanted."),
    (
        WAX,
        status("not_prepared", need=Need(2, 5)),
        "No coat on: two coats of sealer, then five coats wanted.",
    ),
    (WAX, status("not_prepared", why=("no_release_system",)), "No release recipe: choose one first."),
    (WAX, status("preparing", coats_in_preparation=3, need=Need(0, 2)), "Preparing: 3 coats on, 2 more."),
    (WAX, status("preparing", need=Need(1, 5)), "Preparing: one coat of sealer more, then five coats."),
    (WAX, status("preparing", coats_in_preparation=5, need=Need(1, 0)), "Preparing: one coat of sealer more."),
    (WAX, status("preparing", need=FIVE_COATS), "Preparing: five coats more."),
    (
        WAX,
        status("needs_touch_up", why=("count",), since_coat=4, need=ONE_COAT),
        "Wax first: 4 of 4 pulls done. One coat.",
    ),
    (
        WAX,
        status("needs_touch_up", why=("count", "came_off"), since_coat=6, pulls_past=2, need=Need(0, 3)),
        "Wax first: 2 pulls past the wax line, it came off hard. Three coats.",
    ),
    (
        RELEASE,
        status("needs_touch_up", why=("count",), since_coat=6, need=ONE_COAT),
        "Release first: one coat. 6 of 6 pulls done.",
    ),
    (
        OTHER,
        status("needs_touch_up", why=("unfinished",), need=Need(0, 2)),
        "Coat first: two coats. The coats begun are not finished.",
    ),
    (WAX, status("curing", ready_at=SOON, pulls_left=4), "Curing: can be laid up from 16:10."),
    (WAX, status("needs_film", pulls_left=4), "Film first: no fresh film is on."),
    (WAX, status("film_drying", ready_at=NOW + timedelta(minutes=30)), "Film: not before 08:10."),
    (WAX, status("last_pull", pulls_left=1), "Last pull, then wax."),
    (RELEASE, status("last_pull", pulls_left=1), "Last pull, then release."),
    (WAX, status("ready", pulls_left=2), "Ready: 2 pulls, then wax."),
    (RELEASE, status("ready", pulls_left=3), "Ready: 3 pulls, then release."),
    (OTHER, status("ready", pulls_left=3), "Ready: 3 pulls, then a coat."),
]


@pytest.mark.parametrize(("family", "given", "words"), SAID, ids=[words for _family, _given, words in SAID])
def test_sentence(family, given, words):
    assert sentence(given, family=family, now=NOW, zone=ZONE).whole == words


def test_every_status_is_said():
    assert {given.status for _family, given, _words in SAID} == set(ORDER)


@pytest.mark.parametrize("family", [RELEASE, OTHER])
def test_only_paste_wax_says_wax(family):
    for _family, given, _words in SAID:
        assert "wax" not in sentence(given, family=family, now=NOW, zone=ZONE).whole.lower()


def test_the_numbers_of_an_insert_are_not_said_as_those_of_its_mold():
    mold = status("ready", pulls_left=2, since_coat=2, coats_in_preparation=5)
    both = replace(mold, status="needs_touch_up", surface=2, why=("count",), need=ONE_COAT, pulls_left=0)
    said = sentence(both, family=WAX, now=NOW, zone=ZONE, own=mold, on="HATCH3")
    assert said.whole == "Wax first: its pulls are done. One coat. This is about HATCH3, which is in it."
    both = replace(mold, status="preparing", surface=2, need=Need(0, 2), pulls_left=0)
    said = sentence(both, family=WAX, now=NOW, zone=ZONE, own=mold, on="HATCH3")
    assert said.whole == "Preparing: two coats more. This is about HATCH3, which is in it."


def test_a_part_in_the_mold_is_in_its_inserts_too():
    given = status("part_in_mold", ready_at=SOON, surface=2)
    assert sentence(given, family=WAX, now=NOW, zone=ZONE, on="HATCH3").more == ()


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"ready_at": SOON}, "Molding on the plug, not before 16:10."),
        ({"ready_at": NOW}, "Time is up: check it is hard."),
        ({}, "Molding on the plug, and no time was set for it."),
    ],
)
def test_a_part_is_on_a_plug(given, words):
    said = sentence(status("part_in_mold", **given), family=WAX, now=NOW, zone=ZONE, kind="plug")
    assert str(said) == words


def test_a_tool_in_the_making():
    assert str(making("second putty coat")) == "In the making: second putty coat."
    assert str(making("")) == "In the making."
