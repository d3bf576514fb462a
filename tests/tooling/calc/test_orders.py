"""What is left out of the trials of orders may not matter. Source: the same trials with nothing left out."""

import random
from datetime import timedelta

import pytest

from tests.tooling.calc.clock import DAYTIME, at, open_on
from tooling.calc import orders
from tooling.calc.bounds import Ways
from tooling.calc.chain import Link
from tooling.calc.hands import Hands
from tooling.calc.timeline import Step
from tooling.calc.together import Surface, side_by_side, start_by

MONDAY = at("2025-06-02 08:00")


def hours():
    """Of its own for each: what was worked out with them is kept."""
    return open_on(("08:00", "10:00"), ("11:00", "13:00"), days=range(7), zone="UTC")


def chain(chance):
    """Some with a longest wait between, a first moment, or no work at all."""
    steps = []
    for _step in range(chance.randint(1, 4)):
        wait = chance.choice([0, 15, 45, 120])
        longest = chance.choice([None, None, None, wait + 200])
        begin = chance.choice([None] * 6 + [MONDAY + timedelta(hours=chance.randrange(12))])
        steps.append(Step("coat", chance.choice([0, 15, 30, 60]), wait, longest, begin))
    return tuple(steps)


def surfaces(chance):
    out = [None, None, MONDAY + timedelta(hours=7)]
    return [Surface(str(n), chain(chance), not_before=chance.choice(out)) for n in range(chance.randint(2, 6))]


def every_trial(tasks, time, hands, by_themselves):
    """As `orders.best`, and nothing is left out or given up early."""
    found = None
    for count in range(hands, 0, -1):
        for sequence in orders._sequences(tasks, by_themselves):
            board = orders._Board(tasks, time, count, Ways(tasks, time, by_themselves))
            if board.laid_out(sequence, None) and (found is None or orders._end(tasks, board.starts) < found[0]):
                found = orders._end(tasks, board.starts), board.starts
    return found and found[1]


@pytest.fixture
def searched(monkeypatch):
    """Each search for the best of orders: what was given, and what was found."""
    kept, search = [], orders._searched
    monkeypatch.setattr(orders, "_searched", lambda *given: kept.append((given, search(*given))) or kept[-1][1])
    return kept


@pytest.fixture
def trials(monkeypatch):
    """How many hands each trial had."""
    kept, laid_out = [], orders._Board.laid_out
    monkeypatch.setattr(orders._Board, "laid_out", lambda *given: kept.append(given[1]) or laid_out(*given))
    return kept


def test_the_same_is_found_as_where_nothing_is_left_out(searched):
    chance = random.Random(3)
    for _set in range(70):
        given, hands = surfaces(chance), chance.randint(1, 3)
        for way, when in ((side_by_side, MONDAY), (start_by, MONDAY + timedelta(days=3))):
            try:
                way(given, when, hours(), hands)
            except ValueError:
                continue
    assert len(searched) > 60
    for given, found in searched:
        assert found == every_trial(*given)
        tasks, time, hands, by_themselves = given
        assert found is None or Ways(tasks, time, by_themselves).bound(hands) <= orders._end(tasks, found)


def test_a_hand_is_free_where_no_span_in_the_way_says_otherwise():
    chance = random.Random(5)
    for _shop in range(50):
        count, booked = chance.randint(1, 3), []
        hands = Hands(lambda begin, work: begin, count)
        for _span in range(12):
            begin, work = chance.randrange(30), chance.randint(1, 6)
            busy = [sum(one <= t < one + long for one, long in booked) for t in range(200)]
            first = next(t for t in range(begin, 150) if max(busy[t : t + work]) < count)
            assert hands.free(begin, work) == first
            booked.append((first, work))
            hands.book([Link(None, work, 0, None)], [first])
        assert hands.most == max(sum(one <= t < one + long for one, long in booked) for t in range(200)) <= count


def test_a_big_set_is_one_trial_where_the_hands_cannot_do_it_sooner(trials):
    coats = (*[Step("coat", 20, 60)] * 5, Step("coat", 20, 120))
    # two waves of twenty minutes for each coat of an hour's wait: twenty minutes behind what each takes alone
    plan = side_by_side([Surface(str(n), coats) for n in range(12)], MONDAY, DAYTIME, 6)
    assert plan.ready_at == MONDAY + timedelta(minutes=6 * 20 + 5 * 60 + 120 + 20)
    assert len(trials) == 1


def test_equal_sets_are_searched_once(searched):
    open_then = hours()
    for name in ("PLUG", "HULL", "DECK"):
        plan = side_by_side([Surface(name, (Step(name, 30, 60),))] * 3, MONDAY, open_then, 2)
        assert plan.plans[0].steps[0].name == name
    assert len(searched) == 1
    side_by_side([Surface("HULL", (Step("coat", 30, 61),))] * 3, MONDAY, open_then, 2)
    side_by_side([Surface("HULL", (Step("coat", 30, 60),))] * 3, MONDAY, open_then, 1)
    assert len(searched) == 3


def test_alike_but_for_a_part_that_comes_out_late_one_goes_before_the_other():
    wanted = MONDAY + timedelta(hours=4)
    free, late = Surface("HULL", (Step("coat", 60),)), Surface("DECK", (Step("coat", 60),), wanted - timedelta(hours=1))
    for given in ([free, late], [late, free]):
        plan = start_by(given, wanted, DAYTIME, 1)
        assert {one.starts[0] for one in plan.plans} == {wanted - timedelta(hours=1), wanted - timedelta(hours=2)}
        assert plan.plans[given.index(late)].starts[0] == late.not_before
