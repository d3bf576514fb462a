"""Several surfaces over a few hands. Source: worked by hand, with the working beside it, and an exhaustive search."""

import random
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tooling.calc.clock import DAYTIME, at, clock, open_on
from tooling.calc.timeline import Infeasible, ShopHours, Step, backward, forward
from tooling.calc.together import Surface, side_by_side, start_by

MONDAY = at("2025-06-02 08:00")


def coats(count: int, work: float = 20, wait: float = 60, cure: float = 120) -> tuple[Step, ...]:
    return (*[Step("coat", work, wait)] * (count - 1), Step("coat", work, cure))


def test_one_hand_goes_from_one_half_to_the_other_while_coats_cure():
    plan = side_by_side([Surface("DECK", coats(3)), Surface("HULL", coats(3))], MONDAY, DAYTIME, 1)
    # each by itself: 08:00 09:20 10:40, to 13:00; the other goes in the waits of an hour, 20 minutes behind
    assert sorted(map(tuple, (clock(one.starts) for one in plan.plans))) == [
        ("Mon 08:00", "Mon 09:20", "Mon 10:40"),
        ("Mon 08:20", "Mon 09:40", "Mon 11:00"),
    ]
    assert clock([plan.starts_at, plan.ready_at, plan.lay_up_at]) == ["Mon 08:00", "Mon 13:20", "Mon 13:20"]
    assert plan.hands == 1


def test_with_two_hands_both_are_done_as_if_alone():
    plan = side_by_side([Surface("DECK", coats(3)), Surface("HULL", coats(3))], MONDAY, DAYTIME, 6)
    assert clock([plan.ready_at]) == ["Mon 13:00"]
    assert plan.hands == 2


def test_the_longest_goes_first():
    # strip 60 and 3 coats: 09:00 10:20 11:40, ready 14:00. The short one in the waits; the other way round it would be
    # 08:20 + 6:00 = 14:20.
    short, long = Surface("PLUG", coats(1)), Surface("HULL", (Step("strip", 60), *coats(3)))
    for surfaces in ([short, long], [long, short]):
        assert clock([side_by_side(surfaces, MONDAY, DAYTIME, 1).ready_at]) == ["Mon 14:00"]


def test_backward_both_are_as_late_as_one_hand_can():
    wanted = at("2025-06-02 16:00")
    plan = start_by([Surface("DECK", coats(3)), Surface("HULL", coats(3))], wanted, DAYTIME, 1)
    # by itself 11:00 12:20 13:40, cured at 16:00; the other 20 minutes before
    assert clock([plan.starts_at]) == ["Mon 10:40"]
    assert plan.ready_at == plan.lay_up_at == wanted
    assert clock([start_by([Surface("DECK", coats(3))] * 2, wanted, DAYTIME, 2).starts_at]) == ["Mon 11:00"]


def test_a_part_that_is_still_in_the_mold_comes_out_first():
    surface = Surface("HULL", coats(1), not_before=at("2025-06-02 18:00"))
    plan = side_by_side([surface, Surface("DECK")], MONDAY, DAYTIME, 2)
    # out on Monday evening, so the coat on Tuesday 08:00 to 08:20, and two hours
    assert clock([plan.starts_at, plan.ready_at]) == ["Tue 08:00", "Tue 10:20"]
    with pytest.raises(Infeasible, match="HULL: is not free before 2025-06-02 22:00 UTC, which is too late"):
        start_by([surface], at("2025-06-03 08:00"), DAYTIME, 2)
    plan = side_by_side([Surface("HULL", not_before=at("2025-06-02 18:00"))], MONDAY, DAYTIME, 2)
    assert clock([plan.ready_at, plan.lay_up_at]) == ["Mon 18:00", "Tue 08:00"]
    assert plan.starts_at is None


def test_a_cure_that_runs_is_waited_for():
    cures = Surface("HULL", ready_from=at("2025-06-02 11:00"))
    plan = side_by_side([cures, Surface("DECK", coats(1))], MONDAY, DAYTIME, 1)
    assert clock(one.ready_at for one in plan.plans) == ["Mon 11:00", "Mon 10:20"]
    assert clock([plan.ready_at]) == ["Mon 11:00"]
    with pytest.raises(Infeasible, match="HULL: is not ready before 2025-06-02 15:00 UTC"):
        start_by([cures], at("2025-06-02 10:59"), DAYTIME, 1)


def test_a_film_goes_on_so_late_that_it_is_good_when_the_other_is_cured():
    filmed = Surface("HULL", (Step("film", 10, 30, 240),))
    cures = Surface("DECK", coats(1, cure=8 * 60))
    plan = side_by_side([filmed, cures], MONDAY, DAYTIME, 2)
    # the deck is cured at 16:20; a film of four hours has to be on at 12:20 or later
    assert clock([plan.ready_at, plan.plans[0].ends[0]]) == ["Mon 16:20", "Mon 12:20"]
    over_night = Surface("DECK", coats(1, cure=12 * 60))
    plan = side_by_side([filmed, over_night], MONDAY, DAYTIME, 2)
    # cured at 20:20, laid up from Tuesday 08:00: on by 04:00 is past, so the film is Tuesday 08:00 to 08:10, dry 08:40
    assert clock([plan.plans[0].starts[0], plan.lay_up_at]) == ["Tue 08:00", "Tue 08:40"]
    assert clock([start_by([filmed], at("2025-06-02 16:00"), DAYTIME, 1).starts_at]) == ["Mon 15:20"]
    with pytest.raises(Infeasible, match="HULL: film would be too old at the wanted time"):
        start_by([filmed], at("2025-06-03 08:00"), DAYTIME, 1)


def good_for(days: int, cure: float, count: int = 1) -> tuple[Step, ...]:
    return (*coats(count - 1, cure=60), Step("coat", 20, cure, good_days=days)) if count > 1 else (
        Step("coat", 20, cure, good_days=days),)  # fmt: skip


def test_a_coat_goes_on_so_late_that_its_days_are_not_over_at_the_lay_up():
    later = Surface("DECK", ready_from=at("2025-06-11 12:00"))
    for days, coat in ((9, "Mon 08:00"), (8, "Tue 08:00"), (7, "Wed 08:00"), (0, "Wed 08:00")):
        plan = side_by_side([Surface("HULL", good_for(days, cure=120)), later], MONDAY, DAYTIME, 1)
        # laid up on Wednesday the 11th, nine days on; the last day of a limit is still good
        assert clock([plan.plans[0].starts[0], plan.lay_up_at]) == [coat, "Wed 12:00"]
    # five coats in the week before, and not four of them nine days before
    plan = side_by_side([Surface("HULL", good_for(7, cure=120, count=3)), later], MONDAY, DAYTIME, 1)
    assert clock(plan.plans[0].starts) == ["Wed 08:00", "Wed 09:20", "Wed 10:40"]
    # of a coat that is good that day alone the others may be on before
    plan = side_by_side([Surface("HULL", good_for(0, cure=200, count=3)), later], MONDAY, DAYTIME, 1)
    assert clock([plan.plans[0].starts[-1], plan.lay_up_at]) == ["Wed 08:00", "Wed 12:00"]


def test_a_coat_whose_days_are_over_before_it_is_cured_is_refused():
    with pytest.raises(Infeasible, match="no coat and no film is too old"):
        side_by_side([Surface("HULL", good_for(0, cure=720))], MONDAY, DAYTIME, 1)
    with pytest.raises(Infeasible, match="HULL: coat would be too old at the wanted time"):
        start_by([Surface("HULL", good_for(0, cure=720))], at("2025-06-03 08:00"), DAYTIME, 1)
    assert clock(
        [start_by([Surface("HULL", good_for(1, cure=720))], at("2025-06-03 08:00"), DAYTIME, 1).starts_at]
    ) == ["Mon 16:40"]


def test_a_film_that_is_on_goes_on_once_more_where_it_would_be_too_old():
    film = Step("film", 10, 30, 240)
    on = Surface("HULL", good_until=at("2025-06-02 12:00"), again=film)
    assert side_by_side([on], MONDAY, DAYTIME, 1).plans[0].steps == ()
    plan = side_by_side([on, Surface("DECK", coats(1, cure=8 * 60))], MONDAY, DAYTIME, 1)
    assert clock([plan.plans[0].ends[0], plan.ready_at]) == ["Mon 12:20", "Mon 16:20"]
    assert start_by([on], at("2025-06-02 12:00"), DAYTIME, 1).starts_at is None
    assert clock([start_by([on], at("2025-06-02 12:01"), DAYTIME, 1).starts_at]) == ["Mon 11:21"]


def test_without_hours_a_surface_that_needs_nothing_is_ready_and_another_says_whose_they_are():
    never = ShopHours("UTC", {})
    plan = side_by_side([Surface("HULL")], MONDAY, never, 1)
    assert (plan.ready_at, plan.lay_up_at, plan.plans[0].starts) == (MONDAY, None, ())
    assert side_by_side([], MONDAY, DAYTIME, 1).ready_at == MONDAY
    for way in (side_by_side, start_by):
        with pytest.raises(Infeasible, match="HULL: The shop has no hours"):
            way([Surface("DECK"), Surface("HULL", coats(2))], MONDAY, never, 1)


def test_waits_that_one_hand_cannot_keep():
    tight = [Surface(name, (Step("first", 60, 0, 0), Step("second", 481))) for name in ("DECK", "HULL")]
    with pytest.raises(Infeasible, match=r"DECK: .* shorter than what the shop hours allow"):
        side_by_side(tight, MONDAY, DAYTIME, 1)
    narrow = [Surface(name, (Step("film", 60, 0, 30),)) for name in ("DECK", "HULL")]
    with pytest.raises(Infeasible, match="no film is too old when lay-up begins"):
        side_by_side(narrow, MONDAY, DAYTIME, 1)
    with pytest.raises(Infeasible, match="With one hand the waits of all these surfaces cannot be kept"):
        start_by(narrow, at("2025-06-02 12:00"), DAYTIME, 1)
    assert side_by_side(narrow, MONDAY, DAYTIME, 2).hands == 2


@pytest.mark.parametrize("way", [side_by_side, start_by])
def test_no_hands_or_no_zone_is_refused(way):
    with pytest.raises(ValueError, match="hands is 0; it goes from 1 upwards"):
        way([Surface("HULL")], MONDAY, DAYTIME, 0)
    with pytest.raises(ValueError, match="has no time zone"):
        way([Surface("HULL")], MONDAY.replace(tzinfo=None), DAYTIME, 1)


def test_a_film_whose_goodness_ends_before_it_is_dry_is_refused():
    with pytest.raises(Infeasible, match="HULL: film is too old before its wait of 30 min is over"):
        side_by_side([Surface("HULL", (Step("film", 10, 30, 20),))], MONDAY, DAYTIME, 1)


# Small sets, with windows that are short enough to matter
STEPS = st.builds(Step, st.just("coat"), st.sampled_from([15, 30, 60]), st.sampled_from([0, 15, 45, 120]))
SETS = st.lists(st.lists(STEPS, min_size=1, max_size=3).map(tuple), min_size=2, max_size=3)
SHORT = open_on(("08:00", "10:00"), ("11:00", "13:00"), days=range(7), zone="UTC")
START = at("2025-06-02 08:00", "UTC")


def every_way(chains, hands: int) -> timedelta:
    """The earliest end of all: each sequence of steps, each as early as it then can, found minute by quarter."""
    quarter = timedelta(minutes=15)

    def is_open(begin, minutes):
        end = begin + timedelta(minutes=minutes)
        return any(
            begin >= begin.replace(hour=h, minute=0) and end <= begin.replace(hour=h + 2, minute=0) for h in (8, 11)
        )

    seen, least = set(), [timedelta.max]

    def go_on(done, free_from, booked, ready):
        if ready >= least[0] or (key := (done, free_from, tuple(sorted(booked)))) in seen:
            return
        seen.add(key)
        if all(count == len(chain) for count, chain in zip(done, chains, strict=True)):
            least[0] = ready
            return
        for number, chain in enumerate(chains):
            if done[number] == len(chain):
                continue
            step, begin = chain[done[number]], free_from[number]
            length = timedelta(minutes=step.work_minutes)
            while not is_open(begin, step.work_minutes) or not hand_free(booked, begin, begin + length, hands):
                begin += quarter
            after = begin + length + timedelta(minutes=step.wait_minutes)
            go_on(
                (*done[:number], done[number] + 1, *done[number + 1 :]),
                (*free_from[:number], after, *free_from[number + 1 :]),
                [*booked, (begin, begin + length)],
                max(ready, after - START),
            )

    go_on((0,) * len(chains), (START,) * len(chains), [], timedelta(0))
    return least[0]


def hand_free(booked, begin, end, hands: int) -> bool:
    moments = [begin, *(start for start, _stop in booked if begin < start < end)]
    return all(sum(start <= one < stop for start, stop in booked) < hands for one in moments)


def test_small_sets_against_every_sequence_there_is():
    chance, missed = random.Random(7), 0
    for _set in range(120):
        chains = [
            tuple(Step("coat", chance.choice([15, 30, 60]), chance.choice([0, 15, 45, 120])) for _step in range(steps))
            for steps in chance.choices([1, 2, 3], k=chance.choice([2, 3]))
        ]
        hands = chance.choice([1, 2])
        plan = side_by_side([Surface(str(n), chain) for n, chain in enumerate(chains)], START, SHORT, hands)
        least = every_way(chains, hands)
        assert plan.ready_at - START >= least
        missed += plan.ready_at - START > least
    # What is tried is not every sequence; of 700 other sets it missed the least end in 13.
    assert missed <= 6


@settings(max_examples=60)
@given(SETS, st.integers(1, 2), st.integers(1, 2))
def test_more_hands_never_end_later_and_both_ways_agree(chains, hands, more):
    surfaces = [Surface(str(n), chain) for n, chain in enumerate(chains)]
    plan = side_by_side(surfaces, START, SHORT, hands)
    assert plan.hands <= hands
    assert side_by_side(surfaces, START, SHORT, hands + more).ready_at <= plan.ready_at
    assert plan.ready_at >= max(forward(chain, START, SHORT).ready_at for chain in chains)
    back = start_by(surfaces, plan.ready_at, SHORT, hands)
    assert back.ready_at <= plan.ready_at
    assert back.starts_at <= min(backward(chain, plan.ready_at, SHORT).starts[0] for chain in chains)
    assert start_by(surfaces, plan.ready_at, SHORT, hands + more).starts_at >= back.starts_at
