"""A restore: everything is looked at before anything is touched, and the shop is the old one or the new one."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.holding import alone
from tooling.services import picture_files
from tooling.services.backup import kept, loading, room
from tooling.services.backup.manifest import Manifest
from tooling.services.backup.standing import holds_a_shop, new_shop
from tooling.services.backup.steps import Steps, Tell, silent
from tooling.services.backup.unpacking import Unpacked, opened
from tooling.services.backup.writing import back_up
from tooling.services.findings import Finding
from tooling.services.whole_check import findings


@dataclass(frozen=True, slots=True)
class Restored:
    """What was restored, where the shop that stood there before was put, and what is wrong in the new one."""

    manifest: Manifest
    before: Path | None
    findings: list[Finding]


def restore(path: Path, *, replace: bool, at: datetime, tell: Tell = silent) -> Restored:
    """Put the shop of a backup in place of an empty one, or with `replace` of any, which is backed up first.

    The order: have the database alone; read and compare the whole file; look at what is there and whether there is
    room; back up what is there; store the pictures; build the shop beside, read it back, check its history; put it in
    place; only then remove the oldest of the backups made so. Raises Refused where it says no.
    """
    with opened(path) as backup, alone():
        backup.verify(tell)
        if (taken := holds_a_shop()) and not replace:
            message = _("This database holds a shop. Say --replace to put the backup in its place; it is kept first.")
            raise Refused(message)
        room.must_be_there(backup.manifest, keeps_present=taken)
        before = back_up(kept.new_path(kept.BEFORE_RESTORE, at), tell=tell).path if taken else None
        _store_pictures(backup, tell)
        with new_shop():
            loading.fill(backup, tell)
            tell(0, 0, _("Checking the history"))
            found = list(findings())
    kept.thin_out(kept.BEFORE_RESTORE, spare=path)
    return Restored(backup.manifest, before, found)


def _store_pictures(backup: Unpacked, tell: Tell) -> None:
    """Before the rows that name them. Should the restore fail, they are swept as pictures that nobody names."""
    steps = Steps(tell, backup.manifest.pictures, _("Storing pictures"))
    try:
        for digest, data in backup.pictures():
            if picture_files.put(data) != digest:
                raise Refused(_("A picture is not what its name says. Nothing was changed."))
            steps.one()
    except OSError as bad:
        raise Refused(_("The pictures cannot be stored: %(why)s.") % {"why": bad.strerror or bad}) from bad
