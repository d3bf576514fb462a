"""The packed file that a workbook is: how large it would be unpacked, and a copy that tells no time."""

import re
import shutil
import zipfile
from pathlib import Path

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.zips import is_open_ended

_MIB = 1 << 20
_MOST = 1024 * _MIB  # of all
_MOST_TEXTS = 64 * _MIB  # of the texts, which are held in memory at once
_MOST_OTHER = 32 * _MIB  # of styles and the like
_MOST_FILES = 5_000
_MOST_PACKED = 400  # times smaller than what is in it, for anything that is not small
_SMALL = 8 * _MIB

_DAY = (1980, 1, 1, 0, 0, 0)  # the first that such a file can name
_STAMP = re.compile(rb"(<dcterms:(created|modified)[^>]*>)[^<]*")


def check_size(path: Path) -> None:
    """Refuses a file that would unpack into far more than a workbook is. (No more than it says is ever unpacked.)"""
    with zipfile.ZipFile(path) as packed:
        infos = packed.infolist()
    if any(map(is_open_ended, infos)):
        raise Refused(_("%(file)s is packed in a way that no spreadsheet uses.") % {"file": path.name})
    sizes = {info.filename: info.file_size for info in infos}
    dense = any(one.file_size > _SMALL and one.file_size > _MOST_PACKED * one.compress_size for one in infos)
    if dense or len(infos) > _MOST_FILES or sum(sizes.values()) > _MOST or any(map(_is_large, sizes.items())):
        message = _("%(file)s would unpack into far more than a workbook is. Export it into .csv and import these.")
        raise Refused(message % {"file": path.name})


def _is_large(named: tuple[str, int]) -> bool:
    name, size = named
    if "/worksheets/" in name or "/media/" in name:
        return False
    return size > (_MOST_TEXTS if name.lower().endswith("sharedstrings.xml") else _MOST_OTHER)


def copy_without_clock(source: Path, copy: Path) -> None:
    """The same workbook, with one day for every moment in it."""
    with zipfile.ZipFile(source) as given, zipfile.ZipFile(copy, "w", zipfile.ZIP_DEFLATED) as made:
        for name in given.namelist():
            info = zipfile.ZipInfo(name, _DAY)
            info.compress_type = zipfile.ZIP_DEFLATED
            if name == "docProps/core.xml":
                made.writestr(info, _STAMP.sub(rb"\g<1>1980-01-01T00:00:00Z", given.read(name)))
                continue
            info.file_size = given.getinfo(name).file_size
            with given.open(name) as old, made.open(info, "w") as new:
                shutil.copyfileobj(old, new, _MIB)
