"""Synthetic shops as files, made once and kept in build/bench, which git leaves alone."""

import hashlib
import os
import shutil
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

from bench.synth.size import Size

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "build" / "bench"
# What decides how a shop comes out: when one of these changes, it is made anew.
_MAKERS = (
    "bench/synth/*.py", "tooling/calc/*.py", "tooling/migrations/*.py", "tooling/services/chain.py",
    "tooling/services/seals.py", "tooling/services/summaries.py",
)  # fmt: skip


def kept(size: Size) -> Path:
    """The database of a shop of that size, made now if there is none."""
    path = FOLDER / f"{size.tools}-{size.entries}-{size.seed}-{_digest()}.sqlite3"
    if not path.exists():
        FOLDER.mkdir(parents=True, exist_ok=True)
        for old in FOLDER.glob(f"{size.tools}-{size.entries}-{size.seed}-*"):
            old.unlink()
        began = time.monotonic()
        draft = path.with_suffix(".draft")
        run([sys.executable, "-m", "bench.synth", str(size.tools), str(size.entries), str(size.seed)], draft)
        _close(draft).rename(path)
        took = time.monotonic() - began
        print(f"Made a shop of {size.tools:,} tools and {size.entries:,} entries in {took:.0f} s.", file=sys.stderr)
    return path


def copy(path: Path, name: str) -> Path:
    """A copy to write on, in place of the one of the run before."""
    mine = FOLDER / f"{name}.sqlite3"
    for rest in FOLDER.glob(f"{mine.name}*"):
        rest.unlink()
    shutil.copyfile(path, mine)
    return mine


def run(command: list[str], database: Path) -> str:
    """A program of the bench on that database; what it printed."""
    env = {**os.environ, **environment(database)}
    return subprocess.run(command, cwd=ROOT, env=env, check=True, stdout=subprocess.PIPE, text=True).stdout


def environment(database: Path) -> dict[str, str]:
    """The program's own settings, with that database."""
    return {
        "DJANGO_SETTINGS_MODULE": "shared.settings",
        "DATABASE_URL": f"sqlite:///{database}",
        "DATA_DIR": str(FOLDER / "data"),
        "SECRET_KEY": "only-for-the-bench-" + "0123456789" * 5,
    }


def _close(path: Path) -> Path:
    """Brings everything from the side file into the database, so that it can be copied as one file."""
    with sqlite3.connect(path) as file:
        file.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        file.execute("ANALYZE")
    file.close()
    return path


def _digest() -> str:
    digest = hashlib.sha256(sqlite3.sqlite_version.encode())
    for pattern in _MAKERS:
        for path in sorted(ROOT.glob(pattern)):
            digest.update(path.read_bytes())
    return digest.hexdigest()[:12]
