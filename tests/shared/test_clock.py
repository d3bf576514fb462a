"""The clock may be turned by the demo, the tests and the bench, and by nobody else."""

import ast
import threading
from datetime import UTC, datetime, timedelta

from shared import clock
from tests.guards.tree import ROOT, parsed, python_files

LONG_AGO = datetime(2020, 2, 29, 12, tzinfo=UTC)


def test_it_stands_inside_and_goes_on_afterwards():
    with clock.set_to(LONG_AGO):
        assert clock.now() == LONG_AGO
        with clock.set_to(LONG_AGO + timedelta(days=1)):
            assert clock.now() == LONG_AGO + timedelta(days=1)
        assert clock.now() == LONG_AGO
    assert abs(clock.now() - datetime.now(UTC)) < timedelta(minutes=1)


def test_another_thread_keeps_the_true_time():
    seen = []
    with clock.set_to(LONG_AGO):
        thread = threading.Thread(target=lambda: seen.append(clock.now()))
        thread.start()
        thread.join()
    assert seen[0] > LONG_AGO + timedelta(days=365)


def test_no_part_of_the_program_turns_it():
    turning = [
        path
        for path in python_files("shared", "tooling", "trimfixtures")
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Attribute | ast.alias)
        and "set_to" in (getattr(node, "attr", ""), getattr(node, "name", ""))
    ]
    assert not [str(path.relative_to(ROOT)) for path in turning]
