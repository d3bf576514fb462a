"""Sixteen writers in two processes on one database: no error, nothing lost, every count equals its log."""

from itertools import cycle, islice
from uuid import uuid4

import pytest

from tests.faults.crew import Process
from tests.faults.works import must_agree, open_shop

PULLS = 400


@pytest.mark.django_db(transaction=True)
def test_sixteen_writers_in_two_processes_lose_nothing():
    jobs = [(tool, uuid4()) for tool in islice(cycle(open_shop()), PULLS)]
    processes = [Process(hands=8) for _ in range(2)]
    for place, process in enumerate(processes):
        process.give(jobs[place::2])
    for process in processes:
        process.wait()
    assert [process.errors for process in processes] == [[], []]
    done = [token for process in processes for token in process.done]
    assert sorted(done) == sorted(token for _, token in jobs)
    must_agree(jobs, done)
