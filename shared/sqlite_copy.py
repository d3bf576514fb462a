"""Copies of a SQLite file by SQLite's backup API: correct also while people work."""

import contextlib
import sqlite3
from pathlib import Path

from shared import clock

KEPT = 10


def write(source: Path, target: Path) -> None:
    """Write a SQLite file as it is at one moment into another."""
    with (
        contextlib.closing(sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True)) as old,
        contextlib.closing(sqlite3.connect(target)) as new,
    ):
        # In one step: in several, each deed in between would make it begin again.
        old.backup(new)


def copy(source: Path, folder: Path) -> Path:
    """Copy a SQLite file into the folder, verified; the newest ten stay."""
    target = folder / f"before-migrate-{clock.now():%Y%m%dT%H%M%S%fZ}.sqlite3"
    draft = target.with_suffix(".part")
    draft.unlink(missing_ok=True)
    try:
        write(source, draft)
        with contextlib.closing(sqlite3.connect(draft)) as new:
            found = new.execute("PRAGMA quick_check").fetchone()[0]
        if found != "ok":
            raise sqlite3.DatabaseError(found)
        draft.chmod(0o600)
        draft.rename(target)
    finally:
        draft.unlink(missing_ok=True)
    for old_copy in sorted(folder.glob("before-migrate-*.sqlite3"))[:-KEPT]:
        old_copy.unlink()
    return target
