"""Whether the disks have room for a restore, asked before anything is written."""

import os
import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.utils.translation import gettext as _

from shared import media
from shared.errors import Refused
from tooling.services.backup.manifest import Manifest

# A table with its indexes takes about twice what its rows take as text, an empty database about a megabyte.
_ROWS, _EMPTY = 2, 1 << 20


def must_be_there(manifest: Manifest, *, keeps_present: bool) -> None:
    """Raises Refused where a disk has too little. With `keeps_present` the shop that is there is backed up first."""
    wanted: Counter[int] = Counter()
    folders: dict[int, Path] = {}
    for folder, size in _needs(manifest, keeps_present):
        disk = folder.stat().st_dev
        folders.setdefault(disk, folder)
        wanted[disk] += size
    for disk, size in wanted.items():
        free = shutil.disk_usage(folders[disk]).free
        if size > free:
            message = _(
                "The restore wants %(wanted)s MB on the disk of %(folder)s, and there are %(free)s MB free. "
                "Make room first."
            )
            raise Refused(message % {"wanted": (size >> 20) + 1, "folder": folders[disk], "free": free >> 20})


def _needs(manifest: Manifest, keeps_present: bool) -> Iterator[tuple[Path, int]]:
    """Folders, and what is written into each. The disk of a PostgreSQL server cannot be seen from here."""
    data, is_here = Path(settings.DATA_DIR), not media.bucket(settings.MEDIA_STORAGE)[0]
    present = 0
    if connection.vendor == "sqlite":
        database = Path(connection.settings_dict["NAME"]).absolute()
        present = database.stat().st_size if database.exists() else 0
        new = _EMPTY + _ROWS * (manifest.bytes - manifest.picture_bytes)
        # the new file, its write-ahead log, and the journal while it is written over the old one
        yield database.parent, 2 * new + present
    if is_here:
        yield data, manifest.picture_bytes
    if keeps_present:
        # a copy of one moment, and its pictures in the backup
        yield data, present + (_size_of(Path(settings.MEDIA_ROOT)) if is_here else 0)


def _size_of(folder: Path) -> int:
    return sum(os.lstat(os.path.join(root, name)).st_size for root, _dirs, names in os.walk(folder) for name in names)
