"""Pictures in the file system: a file is there whole and on the disk, or it is not there."""

import os
import secrets
from datetime import datetime
from pathlib import Path

from django.core.files.base import File
from django.core.files.storage import FileSystemStorage

UNFINISHED = ".part"


class WholeFiles(FileSystemStorage):
    """Django's storage of files, for names that say what is in them: the same name is the same content."""

    def get_available_name(self, name: str, max_length: int | None = None) -> str:
        """The name itself, taken or not."""
        return name

    def _save(self, name: str, content: "File[bytes]") -> str:
        """Write beside, then put in place in one step; a power cut leaves at most something unfinished."""
        path = Path(self.path(name))
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}{UNFINISHED}")
        try:
            with draft.open("xb") as file:
                for chunk in content.chunks():
                    file.write(chunk)
                file.flush()
                os.fsync(file.fileno())
            draft.replace(path)
        finally:
            draft.unlink(missing_ok=True)
        sync(path.parent)
        return name

    def delete_if_older(self, name: str, than: datetime) -> bool:
        """Remove a file whose last writing is before a moment; whether it was.

        It is set aside first: whoever writes the same name from then on writes a file of their own, and what was
        written just before is seen to be young, and goes back.
        """
        path = Path(self.path(name))
        aside = path.with_name(f".{path.name}.{secrets.token_hex(4)}{UNFINISHED}")
        try:
            path.rename(aside)
        except FileNotFoundError:
            return False
        is_old = aside.stat().st_mtime < than.timestamp()
        if is_old:
            aside.unlink()
        else:
            aside.replace(path)
        return is_old


def sync(folder: Path) -> None:
    """Bring the names in a folder to the disk, as well as what is in the files."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
