"""Asking for a job, doing it, ending it, and what becomes of its file."""

import threading
import time
from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from shared import clock
from shared.errors import Refused
from tooling.models import Job
from tooling.services import jobs
from tooling.services.jobs import registry, turn
from tooling.services.jobs.board import board_of
from tooling.services.jobs.files import KEPT_DAYS, file_of, folder_of, sweep
from tooling.services.jobs.left import interrupt_left
from tooling.services.jobs.progress import Progress
from tooling.services.jobs.working import work

pytestmark = pytest.mark.django_db


@pytest.fixture
def kind():
    """Makes a function the work of the kind `try`."""
    yield lambda function, **more: registry.register("try", function, title="Trying", **more)
    registry._kinds.pop("try", None)


@pytest.fixture
def asked(lead):
    return lambda **given: jobs.ask("try", by=lead, at=clock.now(), given=given)


def done(job):
    work(threading.Event(), once=True)
    job.refresh_from_db()
    return job


def writes_a_file(given, progress):
    progress.say(1, 2, "Writing")
    path = progress.folder / "list.txt"
    path.write_text(given["what"])
    return jobs.Outcome("All written.", path)


def test_a_job_is_done_with_what_it_was_given(kind, asked):
    kind(writes_a_file)
    job = done(asked(what="tools"))
    assert (job.state, job.words) == ("done", "All written.")
    assert job.asked_at <= job.started_at <= job.ended_at
    assert file_of(job).read_text() == "tools"


def test_the_same_asked_twice_is_one_job_until_it_ended(kind, asked):
    kind(writes_a_file)
    first = asked(what="tools")
    assert asked(what="tools") == first
    assert asked(what="places") != first
    done(first)
    assert asked(what="tools") != first


def test_an_unknown_kind_is_not_taken(lead):
    with pytest.raises(ValueError, match="nothing-of-the-kind"):
        jobs.ask("nothing-of-the-kind", by=lead, at=clock.now(), given={})


def test_a_kind_that_went_away_fails_with_a_sentence(kind, asked):
    kind(writes_a_file)
    job = asked(what="x")
    registry._kinds.pop("try")
    assert "does not know this kind" in done(job).words
    assert job.state == "failed"


def refuses(given, progress):
    raise Refused("The sheet tools has no header.")


def breaks(given, progress):
    raise RuntimeError("a fault of ours")


def finds_no_room(given, progress):
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize(
    ("function", "words"),
    [
        (refuses, "The sheet tools has no header."),
        (breaks, "The program failed here."),
        (finds_no_room, "disk is full"),
    ],
)
def test_what_goes_wrong_is_said_and_the_next_one_is_done(kind, asked, function, words):
    kind(lambda given, progress: function(given, progress) if given["n"] == 1 else jobs.Outcome("Fine."))
    first, second = asked(n=1), asked(n=2)
    assert done(first).state == "failed"
    assert words in first.words
    assert done(second).state == "done"


def test_one_that_waits_is_cancelled_at_once(kind, asked):
    kind(writes_a_file)
    job = asked(what="x")
    jobs.cancel(job, at=clock.now())
    assert done(job).state == "cancelled"
    with pytest.raises(Refused, match="ended already"):
        jobs.cancel(job, at=clock.now())


def test_one_at_work_ends_at_its_next_step(kind, asked, monkeypatch):
    left = []

    def slow(given, progress):
        try:
            for step in range(10):
                monkeypatch.setattr(type(progress._board), "is_cancel_asked", lambda self, step=step: step == 3)
                progress._looked_at = 0
                progress.say(step, 10, "Reading")
        finally:
            left.append(step)

    kind(slow)
    assert done(asked(n=1)).state == "cancelled"
    assert left == [3]


@pytest.mark.django_db(transaction=True)
def test_the_wish_to_cancel_reaches_the_one_at_work(kind, asked):
    def slow(given, progress):
        jobs.cancel(Job.objects.get(), at=clock.now())
        progress.say(1, 10, "Reading")

    kind(slow)
    assert done(asked(n=1)).state == "cancelled"


@pytest.mark.django_db(transaction=True)
def test_what_is_being_written_is_not_cancelled(kind, asked):
    def writes(given, progress):
        progress.no_way_back("Writing")
        with pytest.raises(Refused, match="no longer be cancelled"):
            jobs.cancel(Job.objects.get(), at=clock.now())
        progress.say(1, 1, "Writing on")
        return jobs.Outcome("Written.")

    kind(writes)
    assert done(asked(n=1)).words == "Written."


def test_a_program_that_ends_interrupts_it(kind, asked, tmp_path):
    kind(lambda given, progress: progress.say(1, 10, "Reading"))
    ending = threading.Event()
    ending.set()
    progress = Progress(board_of(asked(n=1)), tmp_path, ending, lambda: True)
    with pytest.raises(jobs.Interrupted):
        progress.say(1, 10, "Reading")


def test_what_a_killed_worker_left_behind_says_so(kind, asked):
    kind(writes_a_file)
    job = asked(what="x")
    Job.objects.update(state="running", started_at=clock.now())
    interrupt_left(clock.now())
    job.refresh_from_db()
    assert job.state == "interrupted"
    assert "Ask for it again" in job.words


def test_what_nobody_works_on_can_be_asked_for_again(kind, asked):
    kind(writes_a_file)
    lost = asked(what="x")
    Job.objects.update(state="running", started_at=clock.now())
    with turn.taken():
        assert asked(what="x") == lost
    assert asked(what="x") != lost
    lost.refresh_from_db()
    assert lost.state == "interrupted"


def test_one_worker_at_a_time(kind, asked):
    kind(writes_a_file)
    job = asked(what="x")
    assert not turn.is_taken()
    with turn.taken() as is_ours:
        assert is_ours
        assert turn.is_taken()
        with pytest.raises(CommandError, match="Another worker"):
            call_command("work", "--once")
    job.refresh_from_db()
    assert job.state == "queued"
    assert not turn.is_taken()


def test_what_another_worker_said_of_a_job_stays(kind, asked):
    def taken_over(given, progress):
        interrupt_left(clock.now())
        return jobs.Outcome("All written.")

    kind(taken_over)
    job = done(asked(what="x"))
    assert (job.state, "Ask for it again" in job.words) == ("interrupted", True)


@pytest.mark.postgresql
@pytest.mark.parametrize("is_final", [False, True])
def test_a_turn_that_was_lost_ends_the_job(kind, asked, is_final):
    reached = []

    def loses_its_turn(given, progress):
        if is_final:
            progress.no_way_back("Writing")
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT pg_terminate_backend(pid) FROM pg_locks WHERE locktype = 'advisory' AND classid = %s"
                " AND objid = %s AND mode = 'ExclusiveLock'",
                turn._KEY,
            )
        time.sleep(0.3)
        progress.say(1, 1, "Going on")
        reached.append(given)

    kind(loses_its_turn)
    job = done(asked(what="x"))
    assert (job.state, reached) == ("interrupted", [])


def test_files_are_swept_after_a_week_and_strangers_at_once(kind, asked):
    kind(writes_a_file)
    job = done(asked(what="x"))
    stranger = folder_of(Job(pk=987654))
    stranger.mkdir()
    assert sweep(job.ended_at + timedelta(days=KEPT_DAYS - 1)) == 1
    assert file_of(job) is not None
    assert sweep(job.ended_at + timedelta(days=KEPT_DAYS + 1)) == 1
    assert file_of(job) is None
    assert not stranger.exists()
