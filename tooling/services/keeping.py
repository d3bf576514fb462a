"""When the shop was last backed up, and how old that may be before the board says so."""

import contextlib
from datetime import datetime

from django.db import DatabaseError

from tooling.models import Shop


def remember_backup(at: datetime) -> None:
    """Called once a backup is whole and verified. One of an earlier moment than the last says nothing."""
    with contextlib.suppress(DatabaseError):  # a database from before there was a place for it
        Shop.objects.filter(pk=1).exclude(backed_up_at__gt=at).update(backed_up_at=at)


def remind_after(days: int) -> None:
    """How many days may pass after a backup before the board says so; 0: it never does."""
    Shop.objects.filter(pk=1).update(backup_days=days)
