"""A backup: written beside its place, read back and verified, and only then given its name."""

import errno
import glob
import hashlib
import os
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, BinaryIO

from django.core.files.storage import default_storage
from django.db import connection, connections
from django.utils.translation import gettext as _

from shared import drafts
from shared.errors import Refused
from shared.whole_files import sync
from tooling.services.backup import kept
from tooling.services.backup.frozen import frozen
from tooling.services.backup.manifest import Manifest
from tooling.services.backup.packing import Pack, is_backup
from tooling.services.backup.states import PICTURES, Model, State, fields_of, label_of, present
from tooling.services.backup.steps import Steps, Tell, silent
from tooling.services.backup.unpacking import opened
from tooling.services.backup.values import line_of, writer
from tooling.services.picture_files import name_of

_CHUNK = 500


@dataclass(frozen=True, slots=True)
class Kept:
    """A backup that is there, whole and verified."""

    path: Path
    manifest: Manifest


def back_up(path: Path, *, tell: Tell = silent) -> Kept:
    """Write the shop as it is at this moment into a file, while people work.

    The order: freeze one moment, write beside, bring to the disk, read all of it back, rename. Whatever goes wrong,
    nothing new stands under the name. Raises Refused where it cannot be done.
    """
    path = path.absolute()
    _may_stand(path)
    try:
        drafts.sweep(path.parent, f".{glob.escape(path.name)}.*{drafts.ENDING}")
        kept.sweep()
        with drafts.beside(path) as (draft, file):
            with frozen() as (alias, at):
                manifest = _write(file, alias, at, tell)
            with opened(draft) as backup:
                backup.verify(tell)
            draft.replace(path)
        sync(path.parent)
    except OSError as bad:
        raise _failed(path, bad) from bad
    return Kept(path, manifest)


def lines(model: Model, fields: list[Any], alias: str) -> Iterator[str]:
    """These columns of the rows of a table, a line each, in the order of their keys."""
    writers = [writer(field) for field in fields]
    rows = model._base_manager.using(alias).order_by("pk").values_list(*[field.attname for field in fields])
    for row in rows.iterator(chunk_size=_CHUNK):
        yield line_of([write(value) for write, value in zip(writers, row, strict=True)])


def _write(file: BinaryIO, alias: str, at: datetime, tell: Tell) -> Manifest:
    state = present(connections[alias])
    if not state.models:
        raise Refused(_("There is no shop in this database yet, so there is nothing to back up."))
    with Pack(file, at) as pack:
        _pack_rows(pack, state, alias, tell)
        lost = _pack_pictures(pack, state, alias, tell)
        manifest = _manifest(pack, state, alias, at, lost)
        pack.finish(manifest)
    file.flush()
    os.fsync(file.fileno())
    return manifest


def _pack_rows(pack: Pack, state: State, alias: str, tell: Tell) -> None:
    count = sum(model._base_manager.using(alias).count() for model in state.models)
    steps = Steps(tell, count, _("Writing rows"))
    for model in state.models:
        fields = fields_of(model)
        columns = [field.attname for field in fields]
        pack.table(label_of(model), columns, _counted(lines(model, fields, alias), steps))


def _counted(rows: Iterator[str], steps: Steps) -> Iterator[str]:
    for row in rows:
        yield row
        steps.one()


def _pack_pictures(pack: Pack, state: State, alias: str, tell: Tell) -> list[str]:
    """Put in every picture that a row names; those that are not there, or not what their name says."""
    digests = sorted(_named(state, alias))
    steps, lost = Steps(tell, len(digests), _("Writing pictures")), []
    for digest in digests:
        try:
            with default_storage.open(name_of(digest)) as file:
                data = file.read()
        except FileNotFoundError:
            data = b""
        if hashlib.sha256(data).hexdigest() == digest:
            pack.picture(digest, data)
        else:
            lost.append(digest)
        steps.one()
    return lost


def _named(state: State, alias: str) -> set[str]:
    found: set[str] = set()
    for label, columns in PICTURES.items():
        if model := state.named(label):
            for row in model._base_manager.using(alias).values_list(*columns).iterator():
                found.update(row)
    return found


def _manifest(pack: Pack, state: State, alias: str, at: datetime, lost: list[str]) -> Manifest:
    return Manifest(
        made_at=at,
        shop=str(_first(state, alias, "tooling.shop", "name", default="")),
        database=connection.vendor,
        migrations=state.recorded,
        tables=pack.tables,
        pictures=pack.pictures,
        picture_bytes=pack.picture_bytes,
        lost=lost,
        seal=_seal(state, alias),
        heads=_heads(state, alias),
    )


def _first(state: State, alias: str, label: str, column: str, default: Any) -> Any:
    model = state.named(label)
    row = model._base_manager.using(alias).values_list(column, flat=True).first() if model else None
    return default if row is None else row


def _seal(state: State, alias: str) -> list[str]:
    """Day and digest of the last seal."""
    model = state.named("tooling.seal")
    last = model._base_manager.using(alias).order_by("-day").values_list("day", "digest").first() if model else None
    return [last[0].isoformat(), last[1]] if last else []


def _heads(state: State, alias: str) -> str:
    """One digest over where every chain stands."""
    model = state.named("tooling.summary")
    digest = hashlib.sha256()
    if model:
        for row in model._base_manager.using(alias).order_by("tool_id").values_list("tool_id", "count", "head"):
            digest.update(f"{line_of(list(row))}\n".encode())
    return digest.hexdigest()


def table_digest(model: Model, fields: list[Any], alias: str) -> tuple[int, str]:
    """How many rows a table has, and the digest that a backup would have of it."""
    digest, count = hashlib.sha256(), 0
    for line in lines(model, fields, alias):
        digest.update(line.encode("ascii") + b"\n")
        count += 1
    return count, digest.hexdigest()


def _may_stand(path: Path) -> None:
    """Only a former backup is replaced: a slip must not cost another file."""
    if path.is_dir():
        raise Refused(_("%(path)s is a folder. Name the file of the backup.") % {"path": path})
    if not path.parent.is_dir():
        raise Refused(_("There is no folder %(path)s.") % {"path": path.parent})
    if path.exists() and not (path.is_file() and (path.stat().st_size == 0 or is_backup(path))):
        raise Refused(_("%(path)s is there already and is no backup. Give another name.") % {"path": path})


def _failed(path: Path, bad: OSError) -> Refused:
    if bad.errno in (errno.ENOSPC, errno.EFBIG, errno.EDQUOT):
        message = _("The disk is full: no backup was made at %(path)s. Make room, or take another disk.")
        return Refused(message % {"path": path})
    message = _("No backup was made at %(path)s: %(why)s.")
    return Refused(message % {"path": path, "why": bad.strerror or bad})
