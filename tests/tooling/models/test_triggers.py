"""What was written stays written, on both databases."""

from uuid import UUID

import pytest
from django.core.checks import Tags, run_checks
from django.core.management import call_command
from django.db import DatabaseError, IntegrityError, connection, transaction

from tests.plugin_triggers import lifted
from tests.tooling.rows import NOON, make_tool, write
from tooling.models import Entry, Seal, SealLine, triggers
from tooling.services.seals import seal_if_new_day

TOKEN = UUID(int=7)


@pytest.fixture
def entry(db):
    entry = write(make_tool(), token=TOKEN, count=1)
    seal_if_new_day(NOON)
    return entry


def refused(run, *args, **kwargs) -> None:
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        run(*args, **kwargs)


def run_sql(sql, *values):
    with connection.cursor() as cursor:
        cursor.execute(sql, values)


@pytest.mark.django_db
@pytest.mark.parametrize("model", [Entry, Seal, SealLine])
def test_no_update_and_no_delete(entry, model):
    before = list(model.objects.values())
    refused(model.objects.update, id=9000)
    refused(model.objects.all()._raw_delete, "default")
    assert list(model.objects.values()) == before


@pytest.mark.django_db
def test_even_an_update_that_changes_nothing_is_refused(entry):
    refused(Entry.objects.update, kind="pull")


@pytest.mark.django_db
def test_an_entry_is_saved_once(entry):
    with pytest.raises(IntegrityError), transaction.atomic():
        entry.save()


@pytest.mark.django_db
@pytest.mark.parametrize("same", ["id", "number", "token"])
def test_no_insert_over_an_entry(entry, same):
    """INSERT OR REPLACE on SQLite, an upsert on both: whichever unique value is met."""
    columns = [field.column for field in Entry._meta.fields]
    row = {
        field.column: field.get_db_prep_save(field.value_from_object(entry), connection) for field in Entry._meta.fields
    }
    changed = {"id": 77, "number": 77, "token": UUID(int=8).hex if connection.vendor == "sqlite" else UUID(int=8)}
    row.update({name: value for name, value in changed.items() if name != same}, count=400)
    names = ", ".join(f'"{name}"' for name in columns)
    marks = ", ".join(["%s"] * len(columns))
    insert = f"INTO tooling_entry ({names}) VALUES ({marks})"
    values = [row[name] for name in columns]
    unique = {"number": "tool_id, number"}.get(same, same)
    if connection.vendor == "sqlite":
        refused(run_sql, f"INSERT OR REPLACE {insert}", *values)
        refused(run_sql, f"REPLACE {insert}", *values)
        refused(run_sql, f"INSERT OR IGNORE {insert}", *values)
    refused(run_sql, f"INSERT {insert} ON CONFLICT ({unique}) DO UPDATE SET count = 400", *values)
    assert Entry.objects.get().count == 1


@pytest.mark.sqlite
@pytest.mark.django_db
def test_no_update_or_replace(entry):
    write(entry.tool)
    refused(run_sql, "UPDATE OR REPLACE tooling_entry SET number = 1 WHERE number = 2")


@pytest.mark.sqlite
@pytest.mark.django_db
@pytest.mark.parametrize("column", ["voids", "replaces"])
def test_no_insert_over_what_voids_or_replaces(entry, column):
    write(entry.tool, "void" if column == "voids" else "pull", **{column: entry})
    texts = "kind, area, came_off, part, serial, release_system, payload, link, at, recorded_at"
    values = ", ".join(["'x'"] * 10)
    insert = (
        f"INSERT OR REPLACE INTO tooling_entry (tool_id, number, {texts}, {column}_id) VALUES (%s, 3, {values}, %s)"
    )
    refused(run_sql, insert, entry.tool_id, entry.pk)


@pytest.mark.sqlite
@pytest.mark.django_db
def test_no_insert_over_a_seal(entry):
    line = SealLine.objects.get()
    insert = "INSERT OR REPLACE INTO tooling_sealline (seal_id, tool_id, count, head) VALUES (%s, %s, %s, 'forged')"
    refused(run_sql, insert, line.seal_id, line.tool_id, 5)
    insert = "INSERT OR REPLACE INTO tooling_seal (day, made_at, previous, digest) VALUES (%s, 'x', 'y', 'z')"
    refused(run_sql, insert, line.seal.day.isoformat())


@pytest.mark.postgresql
@pytest.mark.django_db
@pytest.mark.parametrize("table", ["tooling_entry", "tooling_seal", "tooling_sealline", "tooling_tool"])
def test_no_truncate(entry, table):
    connection.check_constraints()  # nothing may be pending, or it is refused for that
    refused(run_sql, f"TRUNCATE {table} CASCADE")
    assert Entry.objects.count() == 1


@pytest.mark.postgresql
@pytest.mark.django_db
@pytest.mark.parametrize(
    "sql",
    [
        "ALTER TABLE tooling_entry DISABLE TRIGGER tooling_entry_no_update",
        "CREATE OR REPLACE FUNCTION tooling_append_only() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NEW; END'",
    ],
)
def test_a_trigger_without_effect_counts_as_absent(db, sql):
    run_sql(sql)
    assert "tooling_entry_no_update" in triggers.missing(connection)
    triggers.lay(connection)
    assert triggers.missing(connection) == []


@pytest.mark.sqlite
@pytest.mark.django_db
def test_a_changed_trigger_counts_as_absent():
    run_sql("DROP TRIGGER tooling_entry_no_update")
    run_sql("CREATE TRIGGER tooling_entry_no_update BEFORE UPDATE ON tooling_entry BEGIN SELECT 1; END")
    assert triggers.missing(connection) == ["tooling_entry_no_update"]


@pytest.mark.django_db
def test_the_check_names_what_is_absent_and_what_to_do():
    assert run_checks(tags=[Tags.database], databases=["default"]) == []
    with lifted():
        (error,) = run_checks(tags=[Tags.database], databases=["default"])
    assert error.id == "tooling.E001"
    assert "tooling_entry_no_delete" in error.msg
    assert "migrate" in error.hint


@pytest.mark.django_db
def test_the_check_is_quiet_where_nothing_is_asked_or_nothing_exists(monkeypatch):
    with lifted():
        assert triggers.triggers_are_there(None, databases=None) == []
        monkeypatch.setattr(connection.introspection, "table_names", lambda cursor: [])
        assert triggers.triggers_are_there(None, databases=["default"]) == []


@pytest.mark.django_db
def test_the_check_leaves_a_silent_database_to_others(monkeypatch):
    def silent(connection):
        raise DatabaseError

    monkeypatch.setattr(triggers, "missing", silent)
    assert triggers.triggers_are_there(None, databases=["default"]) == []


@pytest.mark.django_db(transaction=True)
def test_migrate_lays_them_again():
    triggers.lift(connection)
    assert triggers.missing(connection) == sorted(triggers.expected(connection.vendor))
    call_command("migrate", verbosity=0, skip_checks=True)
    assert triggers.missing(connection) == []


@pytest.mark.sqlite
@pytest.mark.django_db(transaction=True)
def test_a_rebuilt_table_loses_them_silently():
    """The reason for laying them after every migrate: should Django ever keep them, that could go."""
    field = Entry._meta.get_field("kind")
    longer = field.clone()
    longer.max_length = 30
    longer.set_attributes_from_name("kind")
    longer.model = Entry
    with connection.schema_editor() as editor:
        editor._remake_table(Entry, alter_fields=[(field, longer)])
    assert triggers.missing(connection) != []
    with connection.schema_editor() as editor:
        editor._remake_table(Entry, alter_fields=[(longer, field)])
    triggers.lay(connection)


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("turn", [1, 2])
def test_a_transactional_test_leaves_an_empty_database_with_triggers(turn):
    """The second turn sees what the flush of the first one left: no rows, every trigger."""
    assert not Entry.objects.exists()
    assert triggers.missing(connection) == []
    entry = write(make_tool())
    seal_if_new_day(NOON)
    refused(Entry.objects.filter(pk=entry.pk).update, count=2)


@pytest.mark.django_db
def test_emptying_the_table_is_refused(entry):
    with pytest.raises(DatabaseError), transaction.atomic():
        run_sql("DELETE FROM tooling_entry")
