"""What every command of this program has in common."""

from contextlib import nullcontext
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor

from shared import environment
from shared.errors import Refused
from shared.holding import held


class ShopCommand(BaseCommand):
    """A command that says in one line on stderr what to change, and then exits with 1.

    It holds the database while it runs, so that a restore never loses what it writes.
    """

    holds = True

    def execute(self, *args: Any, **options: Any) -> str | None:
        """Runs the command; what a service refuses, or a database without a shop, is an error of the command."""
        # With a bad setting it is known of no database which one it is; the checks stop there.
        holding = held() if self.holds and not environment.problems else nullcontext()
        try:
            with holding:
                return super().execute(*args, **options)
        except Refused as refused:
            raise CommandError(refused.message) from refused
        except DatabaseError as failed:
            unready = _unready()
            if not unready:
                raise
            raise CommandError(unready) from failed


def _unready() -> str:
    """What is to be done before this database can be asked anything; "" where that is not what failed."""
    try:
        migrations = MigrationExecutor(connection)
        missing = migrations.migration_plan(migrations.loader.graph.leaf_nodes())
    except DatabaseError as closed:
        why = str(closed).strip().splitlines()[0]
        return f"The database cannot be opened: {why}. Look at DATA_DIR, or at DATABASE_URL."
    if not missing:
        return ""
    if any(app == "tooling" for app, _name in migrations.loader.applied_migrations):
        return "This shop was kept by an older version of the program: run migrate, as make run does after a copy."
    return "This folder has no shop yet: run migrate, or look at DATA_DIR, or at DATABASE_URL for another database."
