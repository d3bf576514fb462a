"""The jobs that keep a shop: a backup into the program's own folder, and the check of the whole history."""

import contextlib
from datetime import datetime
from typing import Any

from django.db import DatabaseError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared import clock
from shared.snapshot import one_moment
from tooling.models import Entry, Shop
from tooling.services.backup import kept
from tooling.services.backup.writing import back_up
from tooling.services.jobs import Outcome, Progress, registry
from tooling.services.whole_check import findings

BACKUP, CHECK = "backup", "check_history"
FINDINGS = "findings.txt"


def make_known() -> None:
    """Called when the program starts."""
    registry.register(BACKUP, _back_up, title=gettext_lazy("Backup"), goes_on=_page)
    registry.register(CHECK, _check, title=gettext_lazy("Check of the history"), goes_on=_page)


def remember_backup(at: datetime) -> None:
    """Called once a backup is whole and verified. One of an earlier moment than the last says nothing."""
    with contextlib.suppress(DatabaseError):  # a database from before there was a place for it
        Shop.objects.filter(pk=1).exclude(backed_up_at__gt=at).update(backed_up_at=at)


def _page(given: dict[str, Any]) -> str:
    return reverse("keep")


def _back_up(given: dict[str, Any], progress: Progress) -> Outcome:
    """A backup among those that the program keeps; the oldest beyond the newest few goes."""
    made = back_up(kept.new_path(kept.BY_HAND, clock.now()), tell=progress.say)
    kept.thin_out(kept.BY_HAND)
    told = made.manifest
    remember_backup(told.made_at)
    words = _("%(rows)s rows and %(pictures)s pictures, read back and compared. Carry it to another machine.")
    said = [words % {"rows": told.rows, "pictures": told.pictures}]
    if told.lost:
        said.append(_("%(count)s pictures have lost their file and are not in it.") % {"count": len(told.lost)})
    return Outcome(" ".join(said))


def _check(given: dict[str, Any], progress: Progress) -> Outcome:
    """Everything folded again, as it was at one moment; what is wrong stands in the file of the job, a line each."""
    path, count = progress.folder / FINDINGS, 0
    with one_moment(), path.open("w", encoding="utf-8") as file:
        for one in findings(progress.say):
            file.write(f"{one}\n")
            count += 1
        entries = Entry.objects.count()
    if not count:
        path.unlink()
        return Outcome(_("No fault in %(entries)s entries.") % {"entries": entries})
    return Outcome(_("%(count)s faults in %(entries)s entries.") % {"count": count, "entries": entries}, path)
