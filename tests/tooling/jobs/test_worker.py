"""The worker as a process of its own: it is told to end, and it is killed."""

import signal
import subprocess
import sys
import time

import pytest

from tests.fixtures import new_shop
from tests.guards.tree import ROOT

# A shop with one lead and a job that takes a while, in a folder of its own.
PREPARE = """
import django; django.setup()
from shared import clock
from tooling.models import Person
from tooling.services import jobs
jobs.registry.register("slow", None, title="Slow")
jobs.ask("slow", by=Person.objects.create_person("Ines", "lead"), at=clock.now(), given={})
"""
WORK = """
import django; django.setup()
import time
from django.core.management import call_command
from tooling.services import jobs
def slow(given, progress):
    for step in range(600):
        progress.say(step, 600, "Going")
        time.sleep(0.1)
jobs.registry.register("slow", slow, title="Slow")
call_command("work")
"""
SAY = """
import django; django.setup()
from tooling.models import Job
from tooling.selectors.jobs import page
shown = page(Job.objects.get())
print(shown.job.state, shown.is_lost, shown.has_worker, shown.told.words)
"""
AGAIN = """
import django; django.setup()
from django.core.management import call_command
call_command("work", "--once")
"""


@pytest.fixture
def python(tmp_path):
    """Starts a script in the folder's shop."""
    env = new_shop.put(tmp_path / "data")

    def start(script):
        return subprocess.Popen([sys.executable, "-c", script], cwd=ROOT, env=env, stdout=subprocess.PIPE, text=True)

    return start


def said(process):
    out, _err = process.communicate(timeout=60)
    assert process.returncode == 0
    return out.strip()


@pytest.fixture
def at_work(python):
    """A worker in the middle of the job."""
    said(python(PREPARE))
    worker = python(WORK)
    for _try in range(60):
        if said(python(SAY)) == "running False True Going":
            yield worker
            worker.stdout.close()
            return
        time.sleep(0.1)
    worker.kill()
    raise AssertionError("The job never began.")


@pytest.mark.sqlite
def test_told_to_end_it_ends_cleanly_and_the_job_says_so(python, at_work):
    at_work.send_signal(signal.SIGTERM)
    assert at_work.wait(timeout=20) == 0
    assert said(python(SAY)).startswith("interrupted False")


@pytest.mark.sqlite
def test_killed_it_is_known_and_the_next_worker_writes_it_down(python, at_work):
    at_work.kill()
    at_work.wait(timeout=20)
    assert said(python(SAY)).startswith("running True False")
    assert said(python(AGAIN)) == "0 jobs done"
    assert said(python(SAY)).startswith("interrupted False")
