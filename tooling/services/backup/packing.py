"""A backup as it is written: a ZIP whose last bytes are the SHA-256 of all that stands before them."""

import contextlib
import hashlib
import zipfile
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from tooling.services.backup import manifest as told
from tooling.services.backup.manifest import Manifest, Table

# The first file in it: what somebody reads who opens the file with another program, and what it is known by.
ABOUT = "about-this-backup.txt"
ABOUT_TEXT = """This file holds everything of a shop: its tools, their history, its people and its pictures.

Keep it where only people you trust reach it: it holds the hashes of passwords. Restore it with
    python manage.py restore FILE
rows/ has a file for each table, a row a line; pictures/ has each picture under its SHA-256; manifest.json has the
digests of all of it. A file that was changed by as much as one byte is refused.
"""
MANIFEST = "manifest.json"
PICTURES = "pictures"
# The comment at the end of the ZIP
MARK = b"all before this line has the sha256 "
END = len(MARK) + 64
PIECE = 1 << 20


class Pack:
    """A file that takes in tables and pictures one after the other; nothing of them stays in memory."""

    def __init__(self, file: BinaryIO, at: datetime) -> None:
        self._file = file
        self._date = (max(at.year, 1980), at.month, at.day, at.hour, at.minute, at.second)
        self._zip = zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED)
        self._put(ABOUT, ABOUT_TEXT.encode())
        self.tables: list[Table] = []
        self.pictures = self.picture_bytes = 0

    def __enter__(self) -> "Pack":
        return self

    def __exit__(self, *raised: object) -> None:
        """Let go of it. What is not finished is no backup, and cannot be taken for one."""
        with contextlib.suppress(Exception):  # a full disk is full for the last bytes as well
            self._zip.close()

    def table(self, label: str, columns: list[str], lines: Iterable[str]) -> None:
        """Take in the rows of a table."""
        digest, rows, size = hashlib.sha256(), 0, 0
        with self._zip.open(self._info(Table(label, columns, 0, 0, "").file), "w", force_zip64=True) as member:
            for line in lines:
                data = line.encode("ascii") + b"\n"
                digest.update(data)
                member.write(data)
                rows, size = rows + 1, size + len(data)
        self.tables.append(Table(label, columns, rows, size, digest.hexdigest()))

    def picture(self, digest: str, data: bytes) -> None:
        """Take in a picture."""
        self._put(f"{PICTURES}/{digest}", data, zipfile.ZIP_STORED)  # what is in it is packed already
        self.pictures += 1
        self.picture_bytes += len(data)

    def finish(self, manifest: Manifest) -> None:
        """Write what it says of itself, and the digest of the whole."""
        self._put(MANIFEST, told.to_json(manifest))
        self._zip.comment = MARK + b"0" * 64
        self._zip.close()
        self._file.flush()
        size = self._file.seek(0, 2)
        whole = digest_of(self._file, size - 64)
        self._file.seek(size - 64)
        self._file.write(whole.encode("ascii"))

    def _put(self, name: str, data: bytes, packed: int = zipfile.ZIP_DEFLATED) -> None:
        self._zip.writestr(self._info(name), data, packed)

    def _info(self, name: str) -> zipfile.ZipInfo:
        info = zipfile.ZipInfo(name, self._date)
        info.external_attr = 0o600 << 16
        info.compress_type = zipfile.ZIP_DEFLATED
        return info


def digest_of(file: BinaryIO, size: int) -> str:
    """The SHA-256 of the first bytes of a file."""
    digest = hashlib.sha256()
    file.seek(0)
    while size > 0 and (piece := file.read(min(size, PIECE))):
        digest.update(piece)
        size -= len(piece)
    return digest.hexdigest()


def is_backup(path: Path) -> bool:
    """Whether a file begins as a backup does; it may yet be cut or damaged."""
    with path.open("rb") as file:
        start = file.read(30 + len(ABOUT))
    return start.startswith(b"PK\x03\x04") and start.endswith(ABOUT.encode())
