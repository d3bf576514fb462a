"""A copy of the database before it is migrated, by SQLite's backup API: correct also while people work.

Run as `python -m shared.keep_copy`.
"""

import contextlib
import sqlite3
import sys
from pathlib import Path

from shared import clock, settings

KEPT = 10


def main() -> None:
    """Copy the database into DATA_DIR/backups, unless there is none yet."""
    database = settings.DATABASES["default"]
    if not database["ENGINE"].endswith("sqlite3"):
        print("PostgreSQL: no copy is made here. Use pg_dump, as README.md says.", file=sys.stderr)
        return
    source = Path(database["NAME"]).absolute()
    try:
        if not source.exists() or is_empty(source):
            return
        target = copy(source, settings.DATA_DIR / "backups")
    except (OSError, sqlite3.Error) as error:
        print(f"{source} could not be copied: {error}", file=sys.stderr)
        raise SystemExit(1) from None
    print(f"Copied the database to {target}")


def is_empty(source: Path) -> bool:
    """Whether the file has no table yet."""
    with contextlib.closing(sqlite3.connect(f"{source.as_uri()}?mode=ro", uri=True)) as database:
        return database.execute("SELECT 1 FROM sqlite_master").fetchone() is None


def copy(source: Path, folder: Path) -> Path:
    """Copy a SQLite file into the folder, verified; the newest ten stay."""
    folder.mkdir(mode=0o700, exist_ok=True)
    target = folder / f"before-migrate-{clock.now():%Y%m%dT%H%M%S%fZ}.sqlite3"
    draft = target.with_suffix(".part")
    draft.unlink(missing_ok=True)
    try:
        with (
            contextlib.closing(sqlite3.connect(f"{source.as_uri()}?mode=ro", uri=True)) as old,
            contextlib.closing(sqlite3.connect(draft)) as new,
        ):
            old.backup(new)
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


if __name__ == "__main__":
    main()
