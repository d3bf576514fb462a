"""The long runs of `make faults`: minutes, not seconds. The names keep them out of the suite."""

import random
import time
from itertools import cycle, islice
from uuid import UUID, uuid4

import pytest

from tests.faults.crew import Job, Process
from tests.faults.works import must_agree, open_shop

PULLS = 5_000
KILLS = 100
A_WHILE = 30  # seconds without an answer: something hangs

pytestmark = pytest.mark.django_db(transaction=True)


def test_five_thousand_pulls_by_sixteen_writers_are_exact():
    jobs = jobs_for(PULLS)
    processes = [Process(hands=8) for _ in range(2)]
    for place, process in enumerate(processes):
        process.give(jobs[place::2])
    for process in processes:
        process.wait()
    assert [process.errors for process in processes] == [[], []]
    must_agree(jobs, [token for process in processes for token in process.done])


def test_a_hundred_kills_under_load_lose_nothing_that_was_acknowledged():
    """A killed process's unanswered forms are sent again with their tokens: what was written stays written once."""
    rng = random.Random(1)
    jobs, acknowledged = jobs_for(20 * KILLS), set()
    running = [Process(hands=8), Process(hands=8)]
    for kill in range(KILLS):
        process = running[kill % 2]
        process.give(rest(jobs, acknowledged)[kill % 2 :: 2])
        wait_for_an_answer(process)
        time.sleep(rng.uniform(0, 0.05))
        process.kill()
        acknowledged |= ended(process)
        running[kill % 2] = Process(hands=8)
    for process in running:
        process.give([])
        acknowledged |= ended(process)
    last = Process(hands=16)
    last.give(rest(jobs, acknowledged))
    acknowledged |= ended(last)
    assert not rest(jobs, acknowledged)
    must_agree(jobs, list(acknowledged))


def jobs_for(pulls: int) -> list[Job]:
    return [(tool, uuid4()) for tool in islice(cycle(open_shop()), pulls)]


def rest(jobs: list[Job], acknowledged: set[UUID]) -> list[Job]:
    return [job for job in jobs if job[1] not in acknowledged]


def wait_for_an_answer(process: Process) -> None:
    until = time.monotonic() + A_WHILE
    while not process.done and time.monotonic() < until:
        time.sleep(0.005)
    assert process.done, f"no answer for {A_WHILE} s: {process.errors}"


def ended(process: Process) -> set[UUID]:
    process.wait()
    assert not process.errors
    return set(process.done)
