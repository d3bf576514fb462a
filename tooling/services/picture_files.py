"""The files of pictures: each stored under the SHA-256 of what is in it, before the row that names it is written."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import PurePosixPath

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db.models import Q

from shared.images import SUFFIX
from shared.whole_files import WholeFiles
from tooling.models import Picture

FOLDER = "pictures"
# A file is written a moment before its row: what is younger may still get one.
_YOUNG = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Swept:
    """What no row named, and what rows name that is not there."""

    removed: list[str]
    lost: list[str]


def name_of(digest: str) -> str:
    """Where the file of a digest is stored."""
    return f"{FOLDER}/{digest[:2]}/{digest}.{SUFFIX}"


def put(data: bytes) -> str:
    """Store a file, and return its digest. One that is there already is the same, and becomes as young as a new one."""
    digest = hashlib.sha256(data).hexdigest()
    name = name_of(digest)
    stored = default_storage.save(name, ContentFile(data))
    if stored != name:  # a storage that never writes over: what was there is the same
        default_storage.delete(stored)
    return digest


def sweep(now: datetime, *, dry_run: bool = False) -> Swept:
    """Remove files that no row names, from a day after they were written; say which named ones are missing."""
    named = {name_of(digest) for digests in _named() for digest in digests}
    found: set[str] = set()
    removed = []
    for name in _stored():
        found.add(name)
        if name in named or default_storage.get_modified_time(name) > now - _YOUNG:
            continue
        if dry_run or _removed(name, now - _YOUNG):
            removed.append(name)
    return Swept(sorted(removed), sorted(named - found))


def _removed(name: str, young: datetime) -> bool:
    """Remove a file, unless the same content was stored again a moment ago: then a row may be on its way, or there."""
    if isinstance(default_storage, WholeFiles):
        return default_storage.delete_if_older(name, young)
    # A bucket has no way to ask and remove at once: what was named meanwhile is put back.
    with default_storage.open(name) as file:
        data = file.read()
    default_storage.delete(name)
    digest = PurePosixPath(name).stem
    if Picture.objects.filter(Q(large=digest) | Q(middle=digest) | Q(small=digest)).exists():
        put(data)
        return False
    return True


def _named() -> Iterator[tuple[str, str, str]]:
    yield from Picture.objects.order_by().values_list("large", "middle", "small").iterator()


def _stored() -> Iterator[str]:
    try:
        folders, _files = default_storage.listdir(FOLDER)
    except FileNotFoundError:
        return
    for folder in sorted(folders):
        for file in sorted(default_storage.listdir(f"{FOLDER}/{folder}")[1]):
            yield f"{FOLDER}/{folder}/{file}"
