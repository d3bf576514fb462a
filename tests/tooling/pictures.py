"""Pictures for tests: small ones, each another, and where their files are."""

import io
from pathlib import Path

from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from tests.tooling.rows import NOON
from tooling.services.pictures import add_picture


def file_of(shade: int = 0, size: tuple[int, int] = (90, 60)) -> io.BytesIO:
    """A JPEG; another shade is another picture."""
    out = io.BytesIO()
    Image.new("RGB", size, (shade * 37 % 256, 90, 120)).save(out, "JPEG")
    out.seek(0)
    return out


def sent(shade: int = 0, name: str = "IMG.jpg") -> SimpleUploadedFile:
    """The same as a browser sends it."""
    return SimpleUploadedFile(name, file_of(shade).read(), "image/jpeg")


def add(tool, shade: int = 0, **said):
    """A picture of a tool, taken at a noon."""
    return add_picture(tool, file_of(shade), **{"by": None, "at": NOON, **said}).picture


def stored() -> set[Path]:
    """Every file below the folder of media, whatever it is called."""
    return {path for path in Path(settings.MEDIA_ROOT).rglob("*") if path.is_file()}
