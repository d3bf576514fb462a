"""Tables as they were when a backup was made, filled with its rows, and brought up to this version."""

from itertools import islice

from django.contrib.contenttypes.models import ContentType
from django.core.management.color import no_style
from django.core.management.sql import emit_post_migrate_signal
from django.db import DatabaseError, connection, transaction
from django.db.migrations.executor import MigrationExecutor
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import search_index, triggers
from tooling.services.backup.manifest import Table
from tooling.services.backup.states import Model, fields_of
from tooling.services.backup.steps import Steps, Tell
from tooling.services.backup.unpacking import Unpacked
from tooling.services.backup.writing import table_digest

_PIECE = 500


def fill(backup: Unpacked, tell: Tell) -> None:
    """Make the tables of a backup in an empty database, load its rows, and go through the migrations since.

    Raises Refused where what was loaded does not read back as the backup has it.
    """
    recorded = [(app, name) for app, names in backup.manifest.migrations.items() for name in names]
    tell(0, 0, _("Making the tables"))
    _migrate(recorded)
    steps = Steps(tell, 2 * backup.manifest.rows, _("Loading rows"))
    with transaction.atomic():
        # Laid again at the end, by the signal that follows every migration.
        triggers.lift(connection)
        search_index.lift(connection)
        for table in backup.manifest.tables:
            _load(backup, table, steps)
        _check_references()
    for table in backup.manifest.tables:
        _compare(backup, table, steps)
    _set_sequences([backup.model(table) for table in backup.manifest.tables])
    tell(0, 0, _("Bringing it up to this version"))
    _migrate(None)
    ContentType.objects.clear_cache()
    emit_post_migrate_signal(verbosity=0, interactive=False, db=connection.alias)


def _migrate(recorded: list[tuple[str, str]] | None) -> None:
    """Go through these migrations and what they stand on; None: through all that are left."""
    executor = MigrationExecutor(connection)
    graph = executor.loader.graph
    plan = executor.migration_plan(graph.leaf_nodes())
    if recorded is not None:
        wanted = {key for one in recorded for key in graph.forwards_plan(one)}
        plan = [step for step in plan if (step[0].app_label, step[0].name) in wanted]
    _check_references_at("IMMEDIATE")
    executor.migrate(None, plan)
    _check_references_at("DEFERRED")


def _check_references_at(when: str) -> None:
    """PostgreSQL alters no table while checks of its rows are still to come, as they are within one transaction.

    Also within a migration that fills a column and then lays an index they must have been made.
    """
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute(f"SET CONSTRAINTS ALL {when}")


def _load(backup: Unpacked, table: Table, steps: Steps) -> None:
    model = backup.model(table)
    fields = fields_of(model)
    quoted = connection.ops.quote_name
    columns = ", ".join(quoted(field.column) for field in fields)
    places = ", ".join(["%s"] * len(fields))
    sql = f"INSERT INTO {quoted(model._meta.db_table)} ({columns}) VALUES ({places})"  # noqa: S608  (our own names)
    rows = backup.rows(table)
    with connection.cursor() as cursor:
        while piece := list(islice(rows, _PIECE)):
            values = [[f.get_db_prep_save(v, connection) for f, v in zip(fields, row, strict=True)] for row in piece]
            try:
                cursor.executemany(sql, values)
            except (DatabaseError, ValueError, OverflowError) as bad:
                raise _unfit(table, bad) from bad
            for _row in piece:
                steps.one()


def _compare(backup: Unpacked, table: Table, steps: Steps) -> None:
    """What stands in the database now is what the backup has, to the last digit."""
    if table_digest(backup.model(table), backup.fields(table), connection.alias) != (table.rows, table.sha256):
        raise _unfit(table, _("what was loaded does not read back the same"))
    for _row in range(table.rows):
        steps.one()


def _check_references() -> None:
    try:
        connection.check_constraints()
    except DatabaseError as bad:
        message = _("The rows of the backup cannot be loaded: one refers to another that is not there (%(why)s).")
        raise Refused(message % {"why": str(bad).strip()}) from bad


def _unfit(table: Table, why: object) -> Refused:
    message = _("The rows of %(table)s cannot be loaded into this database: %(why)s.")
    return Refused(message % {"table": table.label, "why": str(why).strip().rstrip(".")})


def _set_sequences(models: list[Model]) -> None:
    """The next new row comes after all that were loaded."""
    with connection.cursor() as cursor:
        for sql in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(sql)
