"""The backups that the program keeps by itself, in DATA_DIR/backups: of each sort the newest few."""

import os
import re
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings

from shared import drafts

BY_HAND, BEFORE_RESTORE, BEFORE_MIGRATE = "shop", "before-restore", "before-migrate"
SORTS = (BY_HAND, BEFORE_RESTORE, BEFORE_MIGRATE)
NEWEST = 5
_STAMP = "%Y%m%dT%H%M%S%fZ"
_NAME = re.compile(rf"({'|'.join(SORTS)})-(\d{{8}}T\d{{12}}Z)\.zip")


@dataclass(frozen=True, slots=True)
class File:
    """A backup in the folder."""

    name: str
    sort: str
    made_at: datetime
    size: int


def folder() -> Path:
    """Where they are; for the eyes of their owner alone."""
    path = Path(settings.DATA_DIR) / "backups"
    path.mkdir(mode=0o700, exist_ok=True)
    return path


def new_path(sort: str, at: datetime) -> Path:
    """Where a new one goes."""
    return folder() / f"{sort}-{at.astimezone(UTC):{_STAMP}}.zip"


def found() -> list[File]:
    """Those that are there, the newest first."""
    files = []
    with os.scandir(folder()) as entries:
        for entry in entries:
            if (match := _NAME.fullmatch(entry.name)) and entry.is_file(follow_symlinks=False):
                made_at = datetime.strptime(match[2], _STAMP).replace(tzinfo=UTC)
                files.append(File(entry.name, match[1], made_at, entry.stat().st_size))
    return sorted(files, key=lambda file: file.made_at, reverse=True)


def path_of(name: str) -> Path | None:
    """One of them by its name; None for any other file."""
    return folder() / name if any(file.name == name for file in found()) else None


def sweep() -> None:
    """Remove what killed backups left in the folder."""
    drafts.sweep(folder(), f"*{drafts.ENDING}*")


def thin_out(sort: str, spare: Path | None = None) -> None:
    """Remove the oldest of a sort beyond the newest few; the one to be spared stays, however old."""
    for old in [file for file in found() if file.sort == sort][NEWEST:]:
        path = folder() / old.name
        if spare is None or path.resolve() != spare.resolve():
            path.unlink(missing_ok=True)
