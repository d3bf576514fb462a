"""While something else writes into the database, a deed is told so, keeps what was typed, and can be sent again."""

import sqlite3
from contextlib import closing, contextmanager
from uuid import uuid4

import pytest
from django.db import OperationalError, connection

from shared import busy
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Entry, Job, JobState, Person

__all__ = ["shop"]
PAGE = "/tools/DECK-2A/film/"


@pytest.fixture
def hurried(transactional_db):
    """A deed that waits no longer than a moment for its turn."""
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout = 20")
    yield
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout = 30000")


@contextmanager
def somebody_writes():
    with closing(sqlite3.connect(connection.settings_dict["NAME"], isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


@pytest.mark.sqlite
def test_it_is_no_fault_and_the_form_is_offered_again(client, hand, shop, hurried):
    client.force_login(hand, backend="shared.access.RoleBackend")
    asked_by, at = Person.objects.first(), "2026-07-08T12:00Z"
    Job.objects.create(kind="bring_sheets_in", asked_by=asked_by, asked_at=at, state=JobState.RUNNING)
    typed, before = {"token": str(uuid4()), "at": "now", "lot": "tin <14>"}, Entry.objects.count()
    with somebody_writes():
        answer = client.post(PAGE, typed)
    assert (answer.status_code, answer["Retry-After"]) == (503, "5")
    assert "Bringing a workbook in. Send this again in a moment." in answer.text
    assert 'name="lot" value="tin &lt;14&gt;"' in answer.text
    assert f'name="token" value="{typed["token"]}"' in answer.text
    assert Entry.objects.count() == before
    assert client.post(PAGE, dict(answer.context["kept"])).status_code == 302
    assert Entry.objects.count() == before + 1


@pytest.mark.sqlite
def test_a_secret_is_not_written_into_the_page(client, hand, shop, hurried):
    client.force_login(hand, backend="shared.access.RoleBackend")
    with somebody_writes():
        answer = client.post(PAGE, {"token": str(uuid4()), "at": "now", "pin": "8105"})
    assert (answer.status_code, answer.context["kept"]) == (503, [])
    assert "8105" not in answer.text
    assert "Go back" in answer.text


def test_only_what_ends_by_itself_is_called_busy(db):
    def error(**said):
        made = OperationalError("no")
        made.__cause__ = type("Cause", (Exception,), said)()
        return busy.is_busy(made)

    assert error(sqlite_errorcode=sqlite3.SQLITE_BUSY_SNAPSHOT)
    assert error(sqlstate="40P01")
    assert not error(sqlite_errorcode=sqlite3.SQLITE_FULL)
    assert not error(sqlstate="53100")
    assert not busy.is_busy(OperationalError("database is locked"))
    assert not busy.is_busy(ValueError())


def test_a_script_is_told_where_to_go(client, hand, shop):
    client.force_login(hand, backend="shared.access.RoleBackend")
    typed, sent_by_script = {"token": str(uuid4()), "at": "now"}, {"X-Sending": "1"}
    for _ in range(2):
        answer = client.post(PAGE, typed, headers=sent_by_script)
        assert (answer.status_code, answer["Go-To"]) == (204, "/tools/DECK-2A/coat/")
    assert client.post(PAGE, typed).status_code == 302
    assert Entry.objects.filter(kind="film").count() == 1
    assert client.post(PAGE, {**typed, "lot": "2"}, headers=sent_by_script).status_code == 409
    client.logout()
    assert client.post(PAGE, typed, headers=sent_by_script)["Go-To"].startswith("/sign-in/")
