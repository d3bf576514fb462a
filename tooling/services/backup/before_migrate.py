"""What `make run` keeps before it migrates."""

import sqlite3
from datetime import datetime
from pathlib import Path

from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.utils.translation import gettext as _

from shared import sqlite_copy
from shared.errors import Refused
from tooling.services.backup import kept
from tooling.services.backup.states import present
from tooling.services.backup.steps import Tell
from tooling.services.backup.writing import Kept, back_up


def keep_before_migrate(*, at: datetime, tell: Tell) -> Kept | Path | None:
    """A whole backup where a migration is to come. Where none is, a quick copy of a SQLite file, so that a second start
    stays quick. None where there is no shop yet, or nothing to do on PostgreSQL.
    """
    if not present().models:
        return None
    executor = MigrationExecutor(connection)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        made = back_up(kept.new_path(kept.BEFORE_MIGRATE, at), tell=tell)
        kept.thin_out(kept.BEFORE_MIGRATE)
        return made
    if connection.vendor != "sqlite":
        return None
    try:
        return sqlite_copy.copy(Path(connection.settings_dict["NAME"]).absolute(), kept.folder())
    except (OSError, sqlite3.Error) as bad:
        raise Refused(_("The database could not be copied, so nothing was changed: %(why)s.") % {"why": bad}) from bad
