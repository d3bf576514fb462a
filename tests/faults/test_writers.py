"""Sixteen writers in two processes on one database: no error, nothing lost, every count equals its log."""

from concurrent.futures import ThreadPoolExecutor
from itertools import cycle, islice
from threading import Event
from uuid import uuid4

import pytest
from django.test import Client

from tests.faults.crew import Process
from tests.faults.server import get, post, serving
from tests.faults.works import must_agree, open_shop
from tooling.models import Entry, Person, Role, Tool
from tooling.selectors.matched import halves_of

PULLS = 400
WRITERS = 16

pytestmark = pytest.mark.django_db(transaction=True)


def test_sixteen_hands_at_two_server_processes_lose_nothing():
    jobs = [(tool, uuid4()) for tool in islice(cycle(open_shop()), PULLS)]
    tools = Tool.objects.in_bulk()
    halves = {key: ",".join(half.code for half in halves_of(tool)) for key, tool in tools.items()}
    sessions = [signed_in(f"Hand {number}") for number in range(WRITERS)]
    with serving(processes=2) as port, ThreadPoolExecutor(WRITERS) as hands:

        def pull(number: int) -> tuple[int, str]:
            tool, token = jobs[number]
            form = {"token": str(token), "at": "now", "came_off": "free", "another": "yes", "halves": halves[tool]}
            return post(port, f"/tools/{tools[tool].code}/pulled/", sessions[number % WRITERS], form)

        with ThreadPoolExecutor(1) as reader:
            written = Event()
            morning = reader.submit(read_until, written, port, sessions[0])
            answers = list(hands.map(pull, range(PULLS)))
            written.set()
        looks = morning.result()
    assert len(looks) > 1
    assert set(looks) == {200}
    assert {status for status, _ in answers} == {302}
    assert not [where for _, where in answers if "sign-in" in where]
    must_agree(jobs, [token for _, token in jobs])
    assert Entry.objects.filter(kind="pull").values("by").distinct().count() == WRITERS


def test_sixteen_threads_of_two_processes_lose_nothing():
    """Without a server between them more of them meet in the database."""
    jobs = [(tool, uuid4()) for tool in islice(cycle(open_shop()), PULLS)]
    processes = [Process(hands=WRITERS // 2) for _ in range(2)]
    for place, process in enumerate(processes):
        process.give(jobs[place::2])
    for process in processes:
        process.wait()
    assert [process.errors for process in processes] == [[], []]
    done = [token for process in processes for token in process.done]
    assert sorted(done) == sorted(token for _, token in jobs)
    must_agree(jobs, done)


def read_until(written: Event, port: int, session: str) -> list[int]:
    """Somebody looks at the board, the list and a tool again and again, until all is written."""
    looks = []
    for path in cycle(("/", "/tools/", "/tools/M-0/")):
        looks.append(get(port, path, session)[0])
        if written.is_set():
            return looks
    return looks


def signed_in(name: str) -> str:
    """The session of a hand who signed in before."""
    client = Client()
    client.force_login(Person.objects.create_person(name, Role.HAND, "long enough for a test"))
    return client.cookies["sessionid"].value
