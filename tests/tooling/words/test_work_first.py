"""What to do first, on the sheet of a tool set: begins, waits and what comes last, worked out by hand."""

from datetime import UTC, datetime, timedelta
from types import SimpleNamespace

import pytest

from tooling.selectors.lay_up_times import LayUpFrom, StepAt, WorkOn
from tooling.selectors.set_sheet import PutIn
from tooling.words import work_first

# Started 40 seconds into a minute: strip of 1 min, then two coats of 16 min with 60 min between them.
AT = datetime(2026, 5, 12, 11, 35, 40, tzinfo=UTC)


def after(minutes):
    return AT + timedelta(minutes=minutes)


def step(name, starts, minutes, wait):
    return StepAt(name, after(starts), after(starts + minutes), after(starts + minutes + wait))


def asked(*steps, wanted=None, **more):
    """The sheet of one mold with these steps."""
    work = WorkOn(SimpleNamespace(code="HULL"), steps, None, False, None, steps[-1].waits_until)
    found = LayUpFrom(AT, steps[-1].waits_until, steps[-1].waits_until, steps[0].starts, 1, (work,), wanted=wanted)
    return SimpleNamespace(found=found, shop=SimpleNamespace(zone=UTC), put_in=[], **more)


def said(of):
    return [(one.when, one.what, one.then) for one in work_first.steps(of)]


def test_no_coat_begins_on_paper_before_the_wait_behind_the_last_one_ends():
    steps = step("strip", 0, 1, 0), step("coat", 1, 16, 60), step("coat", 77, 16, 960), step("film", 1053, 5, 30.5)
    assert said(asked(*steps)) == [
        ("12 May 2026, 11:35 to 11:37", "Strip", ""),
        ("12 May 2026, 11:37 to 11:53", "Coat 1 of 2", "60 min (till 12:53)"),
        ("12 May 2026, 12:53 to 13:09", "Coat 2 of 2", "16 h (till 13 May 2026, 05:09)"),
        ("13 May 2026, 05:09 to 05:14", "Film", "31 min (till 05:45)"),
    ]


def test_a_wait_that_is_not_whole_is_never_said_shorter():
    assert said(asked(step("coat", 0, 16, 120.2))) == [
        ("12 May 2026, 11:35 to 11:52", "Coat", "2 h 1 min (till 13:52)")
    ]


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        (None, "True only if work begins 12 May 2026, 11:40. Begun later, all moves: count the minutes from your own"),
        (after(600), "Start by 12 May 2026, 11:40 at the latest: nothing is left over."),
    ],
)
def test_it_says_what_its_times_hold_for(wanted, words):
    notes = list(work_first.notes(asked(step("coat", 5, 16, 60), wanted=wanted)))
    assert notes[0].startswith(words)
    assert notes[1:] == ["Minutes are those of the shop’s recipe: the supplier’s data sheet goes before."]


def test_a_mold_insert_goes_in_last_and_comes_out_of_another_mold_first():
    of = asked(step("coat", 0, 16, 60))
    of.put_in += [PutIn("SKEG", "HULL", "", True, ""), PutIn("RIM", "DECK", "DECK-1", False, "")]
    assert list(work_first.before(of)) == ["First: take RIM out of DECK-1."]
    assert list(work_first.last(of)) == [
        "Last: put SKEG into HULL, when it and HULL are through their waits.",
        "Last: put RIM into DECK.",
    ]
