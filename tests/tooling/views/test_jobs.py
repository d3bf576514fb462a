"""The page of a job: how far it is, its end, its file."""

import threading

import pytest

from shared import clock
from tooling.models import Job
from tooling.services import jobs
from tooling.services.jobs import registry, turn
from tooling.services.jobs.board import Board, Told
from tooling.services.jobs.working import work

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(lead, client):
    def write(given, progress):
        path = progress.folder / "list.txt"
        path.write_text("all of it")
        return jobs.Outcome("All written.", path)

    registry.register("try", write, title="Trying it", goes_on=lambda given: "/racks/")
    client.force_login(lead)
    yield jobs.ask("try", by=lead, at=clock.now(), given={})
    registry._kinds.pop("try")


def page(client, job):
    return client.get(f"/jobs/{job.pk}/").text


def test_it_says_that_nobody_is_there_to_do_it(client, job):
    assert "Nobody is there to do it" in page(client, job)
    with turn.taken():
        text = page(client, job)
    assert "Nobody is there to do it" not in text
    assert "Waits for its turn." in text
    assert 'hx-trigger="every 1s"' in text
    assert '<meta http-equiv="refresh"' in text


def test_it_says_how_far_it_is(client, job, monkeypatch):
    Job.objects.update(state="running", started_at=clock.now())
    monkeypatch.setattr(Board, "told", lambda self: Told(3, 12, "Reading tools"))
    monkeypatch.setattr("tooling.services.jobs.board.RowBoard.told", Board.told)
    with turn.taken():
        text = client.get(f"/jobs/{job.pk}/", headers={"HX-Request": "true"}).text
    assert "<html" not in text
    assert "Reading tools" in text
    assert '<progress class="how-far" max="12" value="3"' in text
    assert "Cancel it" in text


def test_one_that_its_worker_left_says_so(client, job):
    Job.objects.update(state="running", started_at=clock.now())
    text = page(client, job)
    assert "Interrupted." in text
    assert "hx-trigger" not in text


def test_its_end_and_its_file(client, job):
    work(threading.Event(), once=True)
    text = page(client, job)
    assert "All written." in text
    assert "Download list.txt" in text
    assert 'href="/racks/"' in text
    reply = client.get(f"/jobs/{job.pk}/file/")
    assert b"".join(reply.streaming_content) == b"all of it"
    assert reply["Content-Disposition"] == 'attachment; filename="list.txt"'
    assert "All written." in client.get("/jobs/").text


def test_cancel_and_cancel_again(client, job):
    for __ in range(2):
        assert client.post(f"/jobs/{job.pk}/cancel/").url == f"/jobs/{job.pk}/"
    job.refresh_from_db()
    assert job.state == "cancelled"
    assert client.get(f"/jobs/{job.pk}/file/").status_code == 404


def test_a_hand_neither_sees_nor_ends_it(client, job, hand):
    client.force_login(hand)
    assert client.get(f"/jobs/{job.pk}/").status_code == 403
    assert client.get(f"/jobs/{job.pk}/file/").status_code == 403
    assert client.post(f"/jobs/{job.pk}/cancel/").status_code == 403
    job.refresh_from_db()
    assert job.state == "queued"
