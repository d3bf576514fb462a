"""Files while they are written, beside the name they will have: known by a lock that ends with who writes them."""

import fcntl
import os
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

ENDING = ".part"
_HOUR = 60 * 60


@contextmanager
def beside(path: Path, mode: int = 0o600) -> Iterator[tuple[Path, BinaryIO]]:
    """A new file, for its owner alone unless `mode` says otherwise; gone at the end, unless it was renamed."""
    draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}{ENDING}")
    with os.fdopen(os.open(draft, os.O_RDWR | os.O_CREAT | os.O_EXCL, mode), "w+b") as file:
        try:
            with suppress(OSError):  # a file system without locks: then nobody sweeps it either
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            yield draft, file
        finally:
            draft.unlink(missing_ok=True)


def sweep(folder: Path, pattern: str) -> None:
    """Remove what killed processes left: what nobody has locked, or has touched for an hour."""
    for left in folder.glob(pattern):
        with suppress(OSError):
            if left.is_file() and left.stat().st_mtime < time.time() - _HOUR:
                with left.open("rb") as file:
                    fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
                    left.unlink()
