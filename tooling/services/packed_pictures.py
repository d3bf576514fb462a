"""What lies in a ZIP, one file after the other. Nothing is unpacked further than a picture may be large.

Only what is stored or deflated is taken, as every system packs: of the others Python unpacks a piece without bound.
"""

import io
import shutil
import struct
import tempfile
import zipfile
import zlib
from contextlib import ExitStack
from functools import partial
from pathlib import Path, PurePosixPath
from typing import BinaryIO, cast

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.images import MOST_BYTES
from shared.zips import is_open_ended
from tooling.services.given_pictures import Given

_MOST_FILES = 20_000
_MOST_LIST = 4 << 20  # bytes of the list of what is in it; reading it takes ten times that
# The record at the end: at most so much comment behind it, and before it the same for a large one.
_END, _LARGE_END, _LONGEST_COMMENT = b"PK\5\6", 56, 65_535
_LARGE_AT, _LARGE_SIGN = 20, b"PK\6\7"


def is_zip(file: BinaryIO) -> bool:
    """Whether it begins as one."""
    file.seek(0)
    begins = file.read(4)
    file.seek(0)
    return begins in (b"PK\3\4", _END)


def given_in(source: Path | BinaryIO, title: str) -> list[Given]:
    """The files in a ZIP by their names, none opened yet."""
    try:
        if _list_length(source) > _MOST_LIST:
            raise _too_many(title)
        with zipfile.ZipFile(source) as packed:
            infos = packed.infolist()
    except NotImplementedError as newer:
        raise Refused(_unknown_way(title)) from newer
    except (zipfile.BadZipFile, OSError, ValueError, struct.error) as bad:
        raise Refused(_("%(file)s is no ZIP that can be read.") % {"file": title}) from bad
    if len(infos) > _MOST_FILES:
        raise _too_many(title)
    files = [info for info in infos if not info.is_dir()]
    return [Given(PurePosixPath(info.filename), partial(_opened, source, info)) for info in files]


def _too_many(title: str) -> Refused:
    return Refused(_("%(file)s holds more than %(most)s files.") % {"file": title, "most": _MOST_FILES})


def _unknown_way(title: str) -> str:
    message = _(
        "%(file)s is packed in a way that is not unpacked here. Unpack it, and choose the pictures or their folder."
    )
    return message % {"file": title}


def _list_length(source: Path | BinaryIO) -> int:
    """As it says itself, before anything of the list is read; 0 where there is no end to it."""
    with ExitStack() as opened:
        file = opened.enter_context(source.open("rb")) if isinstance(source, Path) else source
        length = file.seek(0, io.SEEK_END)
        file.seek(max(0, length - _LONGEST_COMMENT - _LARGE_END - _LARGE_AT - 22))
        tail = file.read()
    at = tail.rfind(_END)
    large = tail[max(0, at - _LARGE_AT - _LARGE_END) : max(0, at)]
    if large[_LARGE_END:].startswith(_LARGE_SIGN):
        return int(struct.unpack_from("<Q", large, 40)[0])
    return int(struct.unpack_from("<L", tail, at + 12)[0]) if at >= 0 else 0


def _opened(source: Path | BinaryIO, info: zipfile.ZipInfo) -> BinaryIO:
    if info.file_size > MOST_BYTES:  # no more than it says is ever unpacked
        raise Refused(_("The file is larger than %(most)s MB.") % {"most": MOST_BYTES >> 20})
    if is_open_ended(info):
        raise Refused(_unknown_way(PurePosixPath(info.filename).name))
    try:
        with ExitStack() as on_failure, zipfile.ZipFile(source) as packed, packed.open(info) as inside:
            unpacked = on_failure.enter_context(tempfile.TemporaryFile())
            shutil.copyfileobj(inside, unpacked)
            on_failure.pop_all()  # whoever asked for it closes it
    except (zipfile.BadZipFile, zlib.error, OSError, RuntimeError, NotImplementedError, EOFError, ValueError) as bad:
        raise Refused(_("The file cannot be read.")) from bad
    return cast(BinaryIO, unpacked)
