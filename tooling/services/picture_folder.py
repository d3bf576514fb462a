"""A folder or ZIP of pictures that are named by the codes of their tools."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.natural import natural
from shared.patience import Patience
from tooling.models import Person, Tool
from tooling.models.pictures import LONGEST_CAPTION
from tooling.services.given_pictures import Given
from tooling.services.packed_pictures import given_in, is_zip
from tooling.services.pictures import add_picture

# Of a ZIP that is sent: somebody waits for the answer, and so does the server.
MOST_SENT = 60
# What systems lay beside pictures by themselves.
_NOT_MEANT = {"thumbs.db", "desktop.ini", "__macosx"}
_BETWEEN = "_ ("
_UP = ".."


@dataclass(slots=True)
class Taken:
    """What became of the files: how many are new, how many were there, and what is wrong with the others by name."""

    added: int = 0
    there: int = 0
    wrong: list[tuple[str, str]] = field(default_factory=list)

    def add(self, other: "Taken") -> None:
        """What became of more files."""
        self.added += other.added
        self.there += other.there
        self.wrong += other.wrong


def add_pictures(path: Path, *, by: Person | None, at: datetime) -> Taken:
    """Add every picture of a folder or ZIP to the tool that its name says. Again is harmless.

    A name is a code, and after a space, "_" or "(" anything: `DECK-2A.jpg`, `DECK-2A_2.jpg`, `DECK-2A front.jpg`;
    words become the caption. In a folder named by a code all pictures are of that tool. What cannot be taken is told
    by name, and keeps out nothing else.
    """
    if path.is_dir():
        found = [
            Given(PurePosixPath(one.relative_to(path).as_posix()), partial(_opened, one))
            for one in path.rglob("*")
            if one.is_file()
        ]
    elif path.is_file():
        found = given_in(path, path.name)
    else:
        raise Refused(_("There is no folder or ZIP %(path)s.") % {"path": path})
    return _add(_meant_ones(found, str(path)), by, at)


def add_sent(
    file: BinaryIO,
    name: PurePosixPath,
    *,
    by: Person,
    at: datetime,
    recorded_by: Person | None = None,
    patience: Patience | None = None,
) -> Taken:
    """The same for one file that was sent, in the folder that it lay in: a picture, or a ZIP of a few. Closes it."""
    with file:
        if not is_zip(file):
            return _add([Given(name, lambda: file)], by, at, recorded_by, patience)
        found = _meant_ones(given_in(file, name.name), name.name)
        if len(found) > MOST_SENT:
            message = _(
                "%(file)s holds more than %(most)s pictures. Unpack it, and choose the pictures or their folder."
            )
            raise Refused(message % {"file": name.name, "most": MOST_SENT})
        return _add(found, by, at, recorded_by, patience)


def _add(
    found: Iterable[Given],
    by: Person | None,
    at: datetime,
    recorded_by: Person | None = None,
    patience: Patience | None = None,
) -> Taken:
    taken = Taken()
    for given in found:
        try:
            if patience is not None:
                patience.check()
            tool, caption = _meant(given.name)
            with given.open() as file:
                new = add_picture(tool, file, by=by, at=at, caption=caption, recorded_by=recorded_by).is_new
        except Refused as refused:
            taken.wrong.append((str(given.name), refused.message))
            continue
        taken.added += new
        taken.there += not new
    return taken


def _meant_ones(found: Iterable[Given], where: str) -> list[Given]:
    meant = sorted((one for one in found if _is_meant(one.name)), key=lambda one: natural(str(one.name)))
    if not meant:
        raise Refused(_("There is no picture in %(path)s.") % {"path": where})
    return meant


def _is_meant(name: PurePosixPath) -> bool:
    hidden = any((part.startswith(".") and part != _UP) or part.casefold() in _NOT_MEANT for part in name.parts)
    return not hidden


def _opened(path: Path) -> BinaryIO:
    try:
        return path.open("rb")
    except OSError as bad:
        raise Refused(_("The file cannot be read.")) from bad


def _meant(name: PurePosixPath) -> tuple[Tool, str]:
    """The tool that a name says, and the words after its code."""
    if _UP in name.parts or name.is_absolute():
        raise Refused(_("Its name leads out of the folder."))
    code, words = _code_and_words(name.stem)
    for tool, caption in ((_called(name.stem), ""), (_called(code), words), (_called(name.parent.name), "")):
        if tool is not None:
            return tool, caption
    message = _("No tool has the code %(code)s. Name the file by the code of its tool.")
    raise Refused(message % {"code": code or name.stem})


def _called(code: str) -> Tool | None:
    return Tool.objects.called(code).first() if code else None


def _code_and_words(stem: str) -> tuple[str, str]:
    cut = min((stem.find(sign) for sign in _BETWEEN if sign in stem), default=len(stem))
    words = " ".join(stem[cut:].replace("_", " ").strip(" ()").split())[:LONGEST_CAPTION]
    return stem[:cut], "" if words.isdigit() else words
