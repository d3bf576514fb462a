"""A backup as it is read. Nothing in it is believed: not its names, sizes or counts, before the file bears them out."""

import contextlib
import hashlib
import json
import os
import struct
import zipfile
import zlib
from collections.abc import Iterator
from itertools import compress
from pathlib import Path
from typing import Any, BinaryIO

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.images import MOST_BYTES as MOST_OF_PICTURE
from shared.zips import is_open_ended
from tooling.services.backup import manifest as told
from tooling.services.backup.manifest import Table
from tooling.services.backup.packing import ABOUT, END, MANIFEST, MARK, PICTURES, digest_of, is_backup
from tooling.services.backup.states import PICTURES as HOLDERS
from tooling.services.backup.states import Model, State, fields_of, label_of, recorded
from tooling.services.backup.steps import Steps, Tell
from tooling.services.backup.values import reader

Row = list[Any]
MOST_OF_LINE = 16 << 20
_BAD = (
    zipfile.BadZipFile, zlib.error, EOFError, ValueError, ArithmeticError, KeyError, IndexError, TypeError,
    NotImplementedError, RuntimeError, RecursionError, OSError, struct.error,
)  # fmt: skip


class Unpacked:
    """An opened backup of which every byte is as it was written, and which says of itself what this program knows.

    Whoever wrote those bytes may have been wrong: only after `verify` are its rows and pictures what they should be.
    """

    def __init__(self, file: BinaryIO, name: str) -> None:
        """Raises Refused, with a sentence on what is wrong with the file."""
        self._file, self._name = file, name
        with self._sound():
            self._check_whole()
            self._zip = zipfile.ZipFile(file)
            self._infos = {info.filename: info for info in self._zip.infolist()}
            self.manifest = told.from_json(self._short(MANIFEST, told.MOST_BYTES))
            self.state: State = recorded(self.manifest.migrations)
            self._check_names()
            self._check_tables()

    def verify(self, tell: Tell) -> None:
        """Compare every row with its table, every table with its digest, every picture with its name."""
        with self._sound():
            steps = Steps(tell, self.manifest.rows + self.manifest.pictures, _("Reading it back"))
            named: set[str] = set()
            for table in self.manifest.tables:
                for row in self.rows(table):
                    named.update(self._pictures_of(table, row))
                    steps.one()
            there = set()
            for digest, data in self.pictures():
                if hashlib.sha256(data).hexdigest() != digest:
                    raise ValueError(digest)
                there.add(digest)
                steps.one()
            if named != there | set(self.manifest.lost):
                raise ValueError("pictures")

    def rows(self, table: Table) -> Iterator[Row]:
        """The rows of a table as values of its columns; at its end their number and digest have been compared."""
        fields = self.fields(table)
        readers = [reader(field) for field in fields]
        stored = [not field.generated for field in fields]
        digest, count = hashlib.sha256(), 0
        with self._sound(), self._zip.open(table.file) as member:
            while line := member.readline(MOST_OF_LINE):
                digest.update(line)
                row = json.loads(line)
                if not line.endswith(b"\n") or type(row) is not list or len(row) != len(readers):
                    raise ValueError(table.label)
                count += 1
                yield list(compress([read(value) for read, value in zip(readers, row, strict=True)], stored))
            if count != table.rows or digest.hexdigest() != table.sha256:
                raise ValueError(table.label)

    def fields(self, table: Table) -> list[Any]:
        """What a line of this table holds: in older files also what the database works out of the rest."""
        return [field for field in self.model(table)._meta.concrete_fields if field.attname in table.columns]

    def model(self, table: Table) -> Model:
        """The table as it was when the backup was made."""
        model = self.state.named(table.label)
        assert model is not None
        return model

    def pictures(self) -> Iterator[tuple[str, bytes]]:
        """Each picture with the SHA-256 it should have."""
        for name in self._infos:
            if name.startswith(f"{PICTURES}/"):
                with self._sound():
                    data = self._short(name, MOST_OF_PICTURE)
                yield name.partition("/")[2], data

    def _check_whole(self) -> None:
        """The file ends with the digest of all that stands before it."""
        size = self._file.seek(0, os.SEEK_END)
        self._file.seek(max(size - END, 0))
        end = self._file.read()
        if not end.startswith(MARK) or len(end) != END:
            message = _("%(file)s is cut off, or something was put behind its end. Take another copy of this backup.")
            raise Refused(message % {"file": self._name})
        if digest_of(self._file, size - 64) != end[len(MARK) :].decode("ascii"):
            raise ValueError("digest")

    def _short(self, name: str, most: int) -> bytes:
        with self._zip.open(name) as member:
            data = member.read(most + 1)
        if len(data) > most:
            raise ValueError(name)
        return data

    def _check_names(self) -> None:
        """Exactly what the manifest names, once each and side by side: nothing else is ever opened."""
        pictures = [name for name in self._infos if _is_picture(name)]
        wanted = {ABOUT, MANIFEST, *pictures, *(table.file for table in self.manifest.tables)}
        packed = sum(info.compress_size for info in self._infos.values())
        counted = sum(self._infos[name].file_size for name in pictures)
        fits = packed <= os.fstat(self._file.fileno()).st_size and counted == self.manifest.picture_bytes
        is_once = len(self._zip.infolist()) == len(self._infos)
        fits = fits and not any(map(is_open_ended, self._infos.values()))
        if wanted != set(self._infos) or len(pictures) != self.manifest.pictures or not fits or not is_once:
            raise ValueError("names")
        for table in self.manifest.tables:
            if self._infos[table.file].file_size != table.bytes:
                raise ValueError(table.label)

    def _check_tables(self) -> None:
        """The tables that a shop has after these migrations, with the columns that can be put in, or with all."""
        told = {table.label: table.columns for table in self.manifest.tables}
        fits = bool(told) and told.keys() == {label_of(model) for model in self.state.models}
        for model in self.state.models if fits else ():
            able, every = ([one.attname for one in some] for some in (fields_of(model), model._meta.concrete_fields))
            fits = fits and told[label_of(model)] in (able, every)
        if not fits:
            message = _("%(file)s was made by another program than this: its tables are not those of a shop here.")
            raise Refused(message % {"file": self._name})

    def _pictures_of(self, table: Table, row: Row) -> list[str]:
        holders, fields = HOLDERS.get(table.label, ()), fields_of(self.model(table))
        return [value for field, value in zip(fields, row, strict=True) if field.attname in holders]

    @contextlib.contextmanager
    def _sound(self) -> Iterator[None]:
        try:
            yield
        except _BAD as bad:
            message = _("%(file)s is damaged and cannot be used. Take another copy of this backup, or an older one.")
            raise Refused(message % {"file": self._name}) from bad


@contextlib.contextmanager
def opened(path: Path) -> Iterator[Unpacked]:
    """A backup, opened. Raises Refused where it is none, or cannot be read."""
    try:
        if not is_backup(path):
            raise Refused(_("%(file)s is no backup of a shop by this program.") % {"file": path.name})
        file = path.open("rb")
    except OSError as bad:
        message = _("%(path)s cannot be read: %(why)s.")
        raise Refused(message % {"path": path, "why": bad.strerror}) from bad
    with file:
        yield Unpacked(file, path.name)


def _is_picture(name: str) -> bool:
    digest = name.removeprefix(f"{PICTURES}/")
    return name != digest and len(digest) == 64 and not set(digest) - set("0123456789abcdef")
