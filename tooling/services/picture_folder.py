"""A folder or ZIP of pictures that are named by the codes of their tools."""

import shutil
import tempfile
import zipfile
import zlib
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path, PurePosixPath
from typing import BinaryIO, cast

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.images import MOST_BYTES
from tooling.models import Person, Tool
from tooling.models.pictures import LONGEST_CAPTION
from tooling.services.pictures import add_picture

_MOST_FILES = 20_000
# What systems lay beside pictures by themselves.
_NOT_MEANT = {"thumbs.db", "desktop.ini", "__macosx"}
_BETWEEN = "_ ("


@dataclass(slots=True)
class Taken:
    """What became of the files: how many are new, how many were there, and what is wrong with the others by name."""

    added: int = 0
    there: int = 0
    wrong: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Given:
    """A file by its name in the folder, not opened yet."""

    name: PurePosixPath
    path: Path
    packed: zipfile.ZipInfo | None = None


def add_pictures(path: Path, *, by: Person | None, at: datetime) -> Taken:
    """Add every picture of a folder or ZIP to the tool that its name says. Again is harmless.

    A name is a code, and after a space, "_" or "(" anything: `DECK-2A.jpg`, `DECK-2A_2.jpg`, `DECK-2A front.jpg`;
    words become the caption. In a folder named by a code all pictures are of that tool. What cannot be taken is told
    by name, and keeps out nothing else.
    """
    taken = Taken()
    for given in _files(path):
        try:
            tool, caption = _meant(given.name)
            with _opened(given) as file:
                new = add_picture(tool, file, by=by, at=at, caption=caption).added_at == at
        except Refused as refused:
            taken.wrong[str(given.name)] = refused.message
            continue
        taken.added += new
        taken.there += not new
    return taken


def _files(path: Path) -> list[_Given]:
    if path.is_dir():
        found = [
            _Given(PurePosixPath(one.relative_to(path).as_posix()), one) for one in path.rglob("*") if one.is_file()
        ]
    elif path.is_file():
        found = _packed(path)
    else:
        raise Refused(_("There is no folder or ZIP %(path)s.") % {"path": path})
    found = [one for one in found if _is_meant(one.name)]
    if not found:
        raise Refused(_("There is no picture in %(path)s.") % {"path": path})
    return sorted(found, key=lambda one: one.name)


def _packed(path: Path) -> list[_Given]:
    try:
        with zipfile.ZipFile(path) as packed:
            infos = packed.infolist()
    except (zipfile.BadZipFile, OSError, ValueError) as bad:
        raise Refused(_("%(file)s is no ZIP that can be read.") % {"file": path.name}) from bad
    if len(infos) > _MOST_FILES:
        raise Refused(_("%(file)s holds more than %(most)s files.") % {"file": path.name, "most": _MOST_FILES})
    return [_Given(PurePosixPath(info.filename), path, info) for info in infos if not info.is_dir()]


def _is_meant(name: PurePosixPath) -> bool:
    return not any(part.startswith(".") or part.casefold() in _NOT_MEANT for part in name.parts)


def _opened(given: _Given) -> BinaryIO:
    """The file; a packed one is unpacked first, no further than a picture may be large."""
    try:
        return given.path.open("rb") if given.packed is None else _unpacked(given.path, given.packed)
    except (zipfile.BadZipFile, zlib.error, OSError, RuntimeError, NotImplementedError, EOFError, ValueError) as bad:
        raise Refused(_("The file cannot be read.")) from bad


def _unpacked(path: Path, info: zipfile.ZipInfo) -> BinaryIO:
    if info.file_size > MOST_BYTES:  # no more than it says is ever unpacked
        raise Refused(_("The file is larger than %(most)s MB.") % {"most": MOST_BYTES >> 20})
    with ExitStack() as on_failure, zipfile.ZipFile(path) as packed, packed.open(info) as source:
        unpacked = on_failure.enter_context(tempfile.TemporaryFile())
        shutil.copyfileobj(source, unpacked)
        on_failure.pop_all()  # whoever asked for it closes it
    return cast(BinaryIO, unpacked)


def _meant(name: PurePosixPath) -> tuple[Tool, str]:
    """The tool that a name says, and the words after its code."""
    code, words = _code_and_words(name.stem)
    for tool, caption in ((_called(name.stem), ""), (_called(code), words), (_called(name.parent.name), "")):
        if tool is not None:
            return tool, caption
    raise Refused(_("No tool has the code %(code)s.") % {"code": code or name.stem})


def _called(code: str) -> Tool | None:
    return Tool.objects.called(code).first() if code else None


def _code_and_words(stem: str) -> tuple[str, str]:
    cut = min((stem.find(sign) for sign in _BETWEEN if sign in stem), default=len(stem))
    words = " ".join(stem[cut:].replace("_", " ").strip(" ()").split())[:LONGEST_CAPTION]
    return stem[:cut], "" if words.isdigit() else words
