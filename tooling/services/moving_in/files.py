"""What was uploaded: looked at from outside, kept until somebody drops it."""

import errno
import lzma
import shutil
import time
import uuid
import zipfile
import zlib
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path, PurePosixPath
from typing import Any, Protocol

from django.conf import settings
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.zips import is_open_ended
from tooling.models import MovingIn, Person
from tooling.services.jobs.left import interrupt_if_left
from tooling.services.sheets.escapes import storable
from tooling.services.sheets.unpacked import check_size

MOST_BYTES = 100 << 20
_MOST_TABLES = 50
_LONGEST_NAME = 55  # letters of up to four bytes
_OLD_OFFICE = bytes.fromhex("d0cf11e0a1b11ae1")
_TABLES = (".csv", ".txt", ".tsv")
_OF_THE_DISK = {errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EACCES, errno.EIO, errno.EMFILE}
# What reading a packed file says where it is none, or no longer whole
_DAMAGE = (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, ValueError, zlib.error, lzma.LZMAError)
_SHEETS, _BEFORE, _MARKED_UP = "sheets", "before", "marked-up.xlsx"
_LEFT_OVER = 24 * 3600  # seconds after which nobody can still be at work on what belongs to no upload


class Uploaded(Protocol):
    """A file as a form hands it over."""

    name: str | None
    size: int | None

    def chunks(self) -> Iterable[bytes]:
        """Its bytes, piece by piece."""
        ...


def folder_of(moving: MovingIn) -> Path:
    """Where the files of an upload lie."""
    return _root() / str(moving.pk)


def marked_up(moving: MovingIn) -> Path:
    """The workbook to be mended, where the last try wrote one."""
    return folder_of(moving) / _MARKED_UP


def sheets_folder(moving: MovingIn) -> Path:
    """The uploaded workbook or tables, as they came."""
    folder, before = folder_of(moving) / _SHEETS, folder_of(moving) / _BEFORE
    # The one before stands in where the program ended between taking it away and putting the mended one in its place.
    return folder if folder.is_dir() or not before.is_dir() else before


def _root() -> Path:
    return Path(settings.DATA_DIR) / "moving"


def take_up(files: list[Uploaded], *, by: Person, at: datetime, given: dict[str, Any] | None = None) -> MovingIn:
    """Keeps an uploaded workbook, tables, or a ZIP of tables. Raises Refused, with nothing kept, for anything else.

    `given`: what is known of it already. Order: the files, while the database waits for nobody; then the row, and the
    folder under its number.
    """
    _sweep()
    fresh = _root() / f".{uuid.uuid4().hex}"
    try:
        _keep(files, fresh / _SHEETS)
        with transaction.atomic():
            moving = MovingIn.objects.create(name=_name(files), added_at=at, added_by=by, given=given or {})
            # a number may have been another upload's before a restore
            shutil.rmtree(folder_of(moving), ignore_errors=True)
            fresh.rename(folder_of(moving))
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return moving


def take_up_again(moving: MovingIn, files: list[Uploaded], *, at: datetime) -> None:
    """Puts the mended file in the place of the one before; what was said of it stays. Refused leaves the old one.

    Order: the new files aside; the lock of the row; a look whether a job reads the old ones; then one for the other.
    """
    fresh = folder_of(moving) / f".{uuid.uuid4().hex}"
    try:
        _keep(files, fresh)
        with transaction.atomic():
            locked = _locked_free(moving, at)
            _exchange(fresh, folder_of(moving))
            locked.name, locked.added_at, locked.report, locked.tried_at = _name(files), at, None, None
            locked.given = {**locked.given, "leave_wrong": False}  # said of rows that may be right by now
            locked.save(update_fields=["name", "added_at", "report", "tried_at", "given"])
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    marked_up(moving).unlink(missing_ok=True)
    moving.refresh_from_db()


def _exchange(fresh: Path, folder: Path) -> None:
    sheets, before = folder / _SHEETS, folder / _BEFORE
    if sheets.is_dir():
        shutil.rmtree(before, ignore_errors=True)
        sheets.rename(before)
    fresh.rename(sheets)
    shutil.rmtree(before, ignore_errors=True)


def drop(moving: MovingIn, *, at: datetime) -> None:
    """Forgets an upload and its files. What was matched is remembered. Raises Refused while a job is at it."""
    with transaction.atomic():
        _locked_free(moving, at).delete()
    shutil.rmtree(folder_of(moving), ignore_errors=True)


def _locked_free(moving: MovingIn, at: datetime) -> MovingIn:
    interrupt_if_left(at)
    locked = MovingIn.objects.select_for_update().filter(pk=moving.pk).first()
    if locked is None:
        raise Refused(_("This upload was dropped."))
    if locked.job is not None and locked.job.is_open:
        raise Refused(_("Something is being done with this upload. Wait until it has ended, or cancel it."))
    return locked


def _sweep() -> None:
    """Removes what an upload that was cut off left, and folders of uploads that are no more, as after a restore."""
    if not _root().is_dir():
        return
    known = {str(pk) for pk in MovingIn.objects.values_list("pk", flat=True)}
    for folder in _root().iterdir():
        try:
            is_old = time.time() - folder.stat().st_mtime > _LEFT_OVER
        except OSError:
            continue  # another upload has moved it into its place
        if is_old and folder.name not in known:
            shutil.rmtree(folder, ignore_errors=True)


def _name(files: list[Uploaded]) -> str:
    return ", ".join(_file_name(one.name or "") for one in files)[:200]


def _file_name(given: str) -> str:
    """The name alone, no longer than a disk takes it."""
    name = PurePosixPath(storable(given).replace("\\", "/")).name.lstrip(".") or "table.csv"
    path = PurePosixPath(name)
    return f"{path.stem[:_LONGEST_NAME]}{path.suffix[:8]}"


def _keep(files: list[Uploaded], folder: Path) -> None:
    if sum(one.size or 0 for one in files) > MOST_BYTES:
        raise Refused(_("This is larger than %(most)d MB. Bring it in in pieces.") % {"most": MOST_BYTES >> 20})
    try:
        folder.mkdir(mode=0o700, parents=True)
        kept = _written(files, folder)
        for path in kept:
            _look_at(path, alone=len(kept) == 1)
    except OSError as bad:
        message = _("This could not be kept: %(why)s. Nothing was taken up. Make room on the disk, then send it again.")
        raise Refused(message % {"why": bad.strerror or bad}) from bad


def _written(files: list[Uploaded], folder: Path) -> list[Path]:
    kept = []
    for one in files:
        name = _file_name(one.name or "")
        path = folder / name
        if path in kept:
            raise Refused(_("Two files are called %(file)s.") % {"file": name})
        with path.open("wb") as file:
            for piece in one.chunks():
                file.write(piece)
        kept.append(path)
    return kept


def _look_at(path: Path, *, alone: bool) -> None:
    """Refuses what can be seen from outside to be no workbook and no table; unpacks a ZIP of tables."""
    with path.open("rb") as file:
        start = file.read(8)
    if not start:
        raise Refused(_("%(file)s is empty.") % {"file": path.name})
    if start == _OLD_OFFICE:
        message = _("%(file)s is an old .xls workbook, or one with a password. Save it as .xlsx without one.")
        raise Refused(message % {"file": path.name})
    if start.startswith(b"PK"):
        if not alone:
            raise Refused(_("Choose one workbook, or one ZIP, or several .csv: not one beside others."))
        _look_into(path)
    elif path.suffix.lower() not in _TABLES:
        message = _("%(file)s is neither an .xlsx workbook nor a .csv. Save it as one of these.")
        raise Refused(message % {"file": path.name})


def _look_into(path: Path) -> None:
    try:
        with zipfile.ZipFile(path) as packed:
            names = packed.namelist()
            if any(map(is_open_ended, packed.infolist())):
                raise Refused(_("%(file)s is packed in a way that no spreadsheet uses.") % {"file": path.name})
            if "mimetype" in names:
                message = _("%(file)s is an OpenDocument file. Open it and save it as .xlsx.")
                raise Refused(message % {"file": path.name})
            if "xl/workbook.xml" in names:
                check_size(path)
                path.rename(path.with_suffix(".xlsx"))
            else:
                _unpack(packed, path)
    except OSError as bad:
        if bad.errno in _OF_THE_DISK:
            raise
        raise Refused(_damaged(path)) from bad
    except _DAMAGE as bad:
        raise Refused(_damaged(path)) from bad


def _damaged(path: Path) -> str:
    return _("%(file)s is cut short or damaged. Save it once more and upload that.") % {"file": path.name}


def _unpack(packed: zipfile.ZipFile, path: Path) -> None:
    """The tables of a ZIP, each by its own name; other files in it are left alone."""
    tables = [one for one in packed.infolist() if _is_table(one)]
    if not tables or len(tables) > _MOST_TABLES or sum(one.file_size for one in tables) > MOST_BYTES:
        message = _("%(file)s is no workbook, and no ZIP of 1 to %(most)d .csv of together %(size)d MB at most.")
        raise Refused(message % {"file": path.name, "most": _MOST_TABLES, "size": MOST_BYTES >> 20})
    for one in tables:
        into = path.with_name(_file_name(one.filename))
        if into.exists():
            raise Refused(_("Two files are called %(file)s.") % {"file": into.name})
        with packed.open(one) as source, into.open("wb") as target:
            shutil.copyfileobj(source, target)
    path.unlink()


def _is_table(info: zipfile.ZipInfo) -> bool:
    name = PurePosixPath(info.filename)
    is_hidden = name.name.startswith(".") or "__MACOSX" in name.parts
    return not info.is_dir() and not is_hidden and name.suffix.lower() in _TABLES
