"""`check_history`: finds nothing in what the program wrote, and names the tool of whatever was changed below it."""

import json
from contextlib import suppress
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from shared import clock
from tests.fixtures.once import once
from tests.plugin_triggers import lifted
from tooling.models import Entry, Flag, Kind, Person, Place, Seal, Span, Summary, Tool
from tooling.services import deeds
from tooling.services.starters import STARTERS, add_starter
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def hull(db):
    return told_hull()


@once
def told_hull():
    """A mold with an insert, nine entries, a hold, a move, and a correction."""
    recipe = add_starter(next(iter(STARTERS))).system
    rack, bench = (Place.objects.create(code=code, name=code) for code in ("RACK", "BENCH"))
    mold = add_tool(code="HULL-1", name="Hull", kind=Kind.MOLD, release_system=recipe, place=rack)
    rim = add_tool(code="RIM-1", name="Rim", kind=Kind.INSERT, release_system=recipe, place=rack)
    who = {"by": Person.objects.named("Mara"), "recorded_by": Person.objects.named("Mara")}
    start = clock.now() - timedelta(days=3)
    for tool in (mold, rim):
        deeds.log_coat(tool, count=5, at=start, **who)
    deeds.install(rim, mold=mold, at=start + timedelta(hours=1), **who)
    deeds.lay_up(mold, part="K-520", serial="0173", at=start + timedelta(days=1), **who)
    pull = deeds.log_pull(mold, came_off="light", at=start + timedelta(days=2), **who)
    deeds.correct(pull, reason="looked again", changes={"came_off": "tight"}, **who)
    deeds.hold(mold, reason="chip at the flange", **who)
    deeds.move(rim, place=bench, **who)
    deeds.make_step(rim, step="sanding", **who)
    return mold


def check() -> list[dict]:
    out = StringIO()
    with suppress(CommandError):  # faults end the command with 1
        call_command("check_history", "--format", "json", stdout=out)
    return json.loads(out.getvalue())["findings"]


def tamper(sql: str, *values: object) -> None:
    with lifted(), connection.cursor() as cursor:
        cursor.execute(sql, values)


def test_what_was_written_has_no_fault(hull):
    out = StringIO()
    call_command("check_history", stdout=out)
    assert out.getvalue().splitlines()[-1].startswith("No fault in ")


CHANGES = {
    "at": "UPDATE tooling_entry SET at = recorded_at WHERE tool_id = %s AND number = 1",
    "count": "UPDATE tooling_entry SET count = 4 WHERE tool_id = %s AND number = 1",
    "by": "UPDATE tooling_entry SET by_id = NULL WHERE tool_id = %s AND number = 2",
    "recorded_at": "UPDATE tooling_entry SET recorded_at = at WHERE tool_id = %s AND number = 2",
    "kind": "UPDATE tooling_entry SET kind = 'note' WHERE tool_id = %s AND number = 3",
    "serial": "UPDATE tooling_entry SET serial = '0174' WHERE tool_id = %s AND number = 2",
    "payload": "UPDATE tooling_entry SET payload = '{}' WHERE tool_id = %s AND number = 5",
    "cut off": "DELETE FROM tooling_entry WHERE tool_id = %s AND number = 5",
}


@pytest.mark.parametrize("sql", CHANGES.values(), ids=CHANGES)
def test_a_changed_row_is_found(hull, sql):
    if sql.startswith("DELETE"):
        Flag.objects.filter(entry__tool=hull, entry__number=5).delete()
    tamper(sql, hull.pk)
    assert "HULL-1" in {found["tool"] for found in check()}


def test_swapped_rows_are_found(hull):
    tamper("UPDATE tooling_entry SET number = 99 WHERE tool_id = %s AND number = 1", hull.pk)
    tamper("UPDATE tooling_entry SET number = 1 WHERE tool_id = %s AND number = 2", hull.pk)
    tamper("UPDATE tooling_entry SET number = 2 WHERE tool_id = %s AND number = 99", hull.pk)
    assert "HULL-1" in {found["tool"] for found in check()}


@pytest.mark.parametrize(
    ("model", "change"),
    [
        (Summary, {"total_pulls": 7}),
        (Summary, {"held_note": "nothing"}),
        (Summary, {"state": {}}),
        (Span, {"pulls_left": 9}),
        (Span, {"rank": 11}),
        (Span, {"group": "ready"}),
        (Span, {"group_at": "2020-01-01T00:00:00Z"}),
    ],
)
def test_a_changed_summary_or_span_is_found_and_laid_anew(hull, model, change):
    model.objects.filter(tool=hull).update(**change)
    assert {found["tool"] for found in check()} == {"HULL-1"}
    call_command("check_history", "--relay", stdout=StringIO())
    assert check() == []


def test_a_missing_and_an_idle_flag_are_found(hull):
    entry = Entry.objects.filter(tool=hull).first()
    Flag.objects.create(entry=entry, surface=hull, flag="used_on_bare")
    assert [found["entry"] for found in check()] == [entry.number]


def test_a_tool_without_summary_is_found(hull):
    Summary.objects.filter(tool=Tool.objects.get(code="RIM-1")).delete()
    assert "RIM-1" in {found["tool"] for found in check()}


def test_an_absent_trigger_is_found(hull):
    from tooling.models import triggers

    triggers.lift(connection)
    try:
        assert any("trigger" in found["message"] for found in check())
    finally:
        triggers.lay(connection)


def test_a_fault_ends_with_1(hull):
    Summary.objects.filter(tool=hull).update(total_pulls=7)
    with pytest.raises(CommandError, match="1 fault"):
        call_command("check_history", stdout=StringIO())


def test_the_last_seal_is_said_and_one_kept_outside_is_looked_for(hull):
    seal = Seal.objects.get()
    said = StringIO()
    call_command("check_history", "--seal", seal.digest.upper(), stdout=said)
    assert said.getvalue().splitlines()[0] == f"Last seal: {seal.day.isoformat()} {seal.digest}"
    said = StringIO()
    call_command("check_history", "--format", "json", stdout=said)
    assert json.loads(said.getvalue())["seal"] == {"day": seal.day.isoformat(), "digest": seal.digest}
    said = StringIO()
    with pytest.raises(CommandError, match=r"^1 faults"):
        call_command("check_history", "--seal", "0" * 64, stdout=said)
    assert "the seals were made anew" in said.getvalue()


def test_a_shop_without_a_deed_has_no_seal(db):
    said = StringIO()
    call_command("check_history", "--format", "json", stdout=said)
    assert json.loads(said.getvalue())["seal"] is None
