"""What the page of coats says."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.tooling.words.samples import NOW, ZONE
from tooling.calc.ahead import Ahead
from tooling.calc.state import State
from tooling.words import coats

PLAN = Ahead(
    sealers=0, on=0, missing=0, strip=False, last_at=None, next_at=None, late_after=None
)  # fmt: skip


@pytest.mark.parametrize(
    ("given", "heading", "button"),
    [
        ({}, "Coats", "One more coat on"),
        ({"missing": 1}, "One coat wanted", "Coat on"),
        ({"missing": 5}, "Five coats wanted", "Coat 1 on"),
        ({"on": 2, "missing": 1}, "2 of 3 coats on", "Coat 3 on"),
        ({"on": 2, "missing": 1, "strip": True}, "Strip first", "One more coat on"),
        ({"sealers": 2, "missing": 5}, "Five coats wanted", "One coat of sealer on"),
    ],
)
def test_a_coat_is_said_by_its_number(given, heading, button):
    plan = replace(PLAN, **given)
    assert (coats.heading(plan), coats.button(plan)) == (heading, button)


def test_without_a_recipe_nothing_is_counted():
    assert (coats.heading(None), coats.button(None)) == ("Coats", "One more coat on")


@pytest.mark.parametrize(
    ("family", "minutes", "ago", "says"),
    [
        ("paste_wax", 15, 5, "Wipe from 07:50: test it with a gloved finger first"),
        ("paste_wax", 15, 15, "Should have hazed by now: test it with a gloved finger"),
        ("paste_wax", 0, 15, "Hazed? Test it with a gloved finger"),
        ("semi_permanent", 0, 15, "Coat 2 is on"),
        ("semi_permanent", 15, 5, "Wipe from 07:50"),
        ("semi_permanent", 15, 15, "Wipe now, gloves on, as its data sheet says"),
        ("other", 15, 15, "Wipe now, gloves on, as its data sheet says"),
    ],
)
def test_only_a_finger_says_that_wax_has_hazed(family, minutes, ago, says):
    assert coats.last_coat(family, 2, minutes, NOW - timedelta(minutes=ago), NOW, ZONE) == says


@pytest.mark.parametrize(
    ("given", "step", "button"),
    [
        ({"sealers": 1, "missing": 2, "film": True}, "sealer", "One coat of sealer on"),
        ({"on": 1, "missing": 1, "film": True}, "coat", "Coat 2 on"),
        ({"complete": 2, "film": True}, "film", "Film on"),
        ({"complete": 2}, "", "One more coat on"),
        ({"missing": 2, "strip": True}, "", "One more coat on"),
    ],
)
def test_the_next_step_is_the_button(given, step, button):
    plan = replace(PLAN, **given)
    assert (plan.step, coats.button(plan)) == (step, button)


def test_that_a_time_is_up_says_nothing_of_the_film():
    assert coats.film_clock(NOW + timedelta(minutes=30), NOW, ZONE) == "Film: not before 08:10, check it is dry"
    assert coats.film_clock(None, NOW, ZONE) == "Film: time is up, check it is dry"


@pytest.mark.parametrize(
    ("known", "says"),
    [
        ({}, []),
        ({"film_at": NOW}, ["Check that the film is dry."]),
        ({"last_coat": NOW, "ready_at": NOW + timedelta(hours=1)}, ["Check that the last coat is hard."]),
        ({"last_coat": NOW, "ready_at": NOW + timedelta(hours=1), "since_coat": 1}, []),
        ({"last_coat": NOW, "ready_at": NOW}, []),
    ],
)
def test_what_no_record_knows_is_to_be_looked_at_before_the_lay_up(known, says):
    assert coats.to_check([State(), State(**known)]) == says
