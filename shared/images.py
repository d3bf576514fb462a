"""Pictures as they come from a camera, made into what is kept: upright, in three sizes, without a word about where.

Everything is decided from the header, before a pixel is decoded: what decoding takes, with every copy that is made on
the way, is bounded by `MOST_MEMORY`.
"""

import importlib.util
import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import BinaryIO

from django.utils.translation import gettext as _
from PIL import Image, ImageFile, UnidentifiedImageError

from shared import jpeg
from shared.errors import Refused
from shared.flat import factor, flat
from shared.notes import length_of_notes

# The longest side of what is kept, in pixels, the largest first.
SIZES = (1600, 800, 300)
FORMATS = ("JPEG", "PNG", "WEBP")
CONTENT_TYPE, SUFFIX = "image/jpeg", "jpg"

_MIB = 1 << 20
MOST_BYTES = 50 * _MIB  # of one file; a large phone camera writes 25
MOST_PIXELS = 210_000_000  # the largest camera of a phone
MOST_MEMORY = 196 * _MIB  # to decode one picture, on top of the program itself
_MARGIN = 16 * _MIB  # for what is made from the decoded picture
_MOST_NOTES = 16 * _MIB  # besides the pixels; a phone that measures depth writes a few
_COPIES = 3  # of the notes: as read, put together, and taken apart
_LINE = 2 * 8  # bytes that unpacking a PNG holds for each pixel of a line: this and the one before, 16 bits a colour

_ORIENTATION = 0x0112
_UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_QUALITY = 84
# Pillow only warns up to twice this number, and refuses beyond: so none larger than ours is ever opened.
Image.MAX_IMAGE_PIXELS = MOST_PIXELS // 2

_HEIC_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")


@dataclass(frozen=True, slots=True)
class Made:
    """One size of a picture: a JPEG with nothing in it but pixels."""

    longest: int
    width: int
    height: int
    data: bytes


def three_sizes(file: BinaryIO) -> tuple[Made, ...]:
    """The sizes of the picture in a file, the largest first; a small picture is not enlarged.

    Raises Refused with what is wrong with the file. Nothing is written anywhere.
    """
    _check_file(file)
    with _as_refusal():
        plain, turn = _decoded(file)
        made = []
        for longest in SIZES:
            if max(plain.size) > longest:
                plain = plain.resize(_fitted(plain.size, longest), Image.Resampling.LANCZOS)
            if longest == SIZES[0] and turn is not None:  # the fewer pixels are turned
                plain = plain.transpose(turn)
            made.append(_encoded(plain, longest))
    return tuple(made)


def _decoded(file: BinaryIO) -> tuple[Image.Image, Image.Transpose | None]:
    """The plain picture, not much larger than wanted, and how it has to be turned. What it came from is let go."""
    if length_of_notes(file) > _MOST_NOTES:
        most = _MOST_NOTES // _MIB
        raise Refused(
            _("The file holds more than %(most)s MB besides the picture. Save it anew, and send that.") % {"most": most}
        )
    with _opened(file) as image:
        _check_picture(image, file)
        turn = _UPRIGHT.get(_orientation(image))
        return flat(image, SIZES[0]), turn


def _check_file(file: BinaryIO) -> None:
    """What can be said without opening it."""
    size = file.seek(0, io.SEEK_END)
    file.seek(0)
    head = file.read(32)
    if not size:
        raise Refused(_("The file is empty."))
    if size > MOST_BYTES:
        most = MOST_BYTES // _MIB
        raise Refused(_("The file is larger than %(most)s MB. Send the picture smaller.") % {"most": most})
    if head[:4] == b"GIF8":
        raise Refused(_("This is a GIF. Send a JPEG, PNG or WebP picture."))
    if head[4:8] == b"ftyp" and head[8:12] in _HEIC_BRANDS and not reads_heic():
        raise Refused(
            _("This is a HEIC picture, which this server cannot read. Set the camera to JPEG, or send it as a JPEG.")
        )
    if head[4:8] == b"ftyp" and head[8:12] not in _HEIC_BRANDS:
        raise Refused(_("This is a film or a picture of an unknown kind. Send a JPEG, PNG or WebP picture."))


def reads_heic() -> bool:
    """Whether the optional package that reads HEIC is installed."""
    return importlib.util.find_spec("pillow_heif") is not None


@contextmanager
def _opened(file: BinaryIO) -> Iterator[Image.Image]:
    """The picture with only its header read. What Pillow only warns of is silenced: the limits that count are below."""
    formats = list(FORMATS)
    file.seek(4)
    if file.read(4) == b"ftyp":
        import pillow_heif

        pillow_heif.register_heif_opener(thumbnails=False)
        formats = ["HEIF"]
    file.seek(0)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        # The library that draws paper lets half a picture pass, for the whole process, once it was imported.
        ImageFile.LOAD_TRUNCATED_IMAGES = False
        with Image.open(file, formats=formats) as image:
            yield image


@contextmanager
def _as_refusal() -> Iterator[None]:
    """Whatever a decoder trips over means that the file is no whole picture."""
    try:
        yield
    except Refused:
        raise
    except (Image.DecompressionBombError, MemoryError) as bomb:
        raise Refused(_too_many()) from bomb
    except UnidentifiedImageError as unknown:
        raise Refused(_("This is no picture. Send a JPEG, PNG or WebP picture.")) from unknown
    except Exception as broken:
        raise Refused(_("The picture is broken or not complete. Send it again.")) from broken


def _too_many() -> str:
    return _("The picture has too many pixels to be opened safely. Send it smaller, or as a JPEG.")


def _check_picture(image: Image.Image, file: BinaryIO) -> None:
    """What its header says: that it stands still, and what decoding it would take."""
    if image.format in ("PNG", "WEBP") and getattr(image, "is_animated", False):
        raise Refused(_("The picture moves. Send one that stands still."))
    width, height = image.size
    if width * height > MOST_PIXELS or _memory(image, file) > MOST_MEMORY:
        raise Refused(_too_many())


def _memory(image: Image.Image, file: BinaryIO) -> int:
    """About how many bytes decoding takes, at the size that is asked for."""
    pixels = image.width * image.height
    notes = _COPIES * length_of_notes(file)
    if image.format in ("JPEG", "MPO"):
        kept = jpeg.held_whole(file)
        image.draft("RGB", _fitted(image.size, SIZES[0]))  # decodes at 1/2, 1/4 or 1/8, whichever is large enough
        return kept + 8 * image.width * image.height + notes + _MARGIN
    if image.format == "WEBP":
        return 16 * pixels + notes + file.seek(0, io.SEEK_END)  # the decoder holds two canvases and a frame beside it
    if image.format == "HEIF":
        return 12 * pixels + _MARGIN
    reduced = pixels // factor(image.size, SIZES[0]) ** 2
    return 4 * pixels + 4 * reduced + _LINE * image.width + notes + _MARGIN


def _orientation(image: Image.Image) -> int:
    """As the camera was held; a picture whose notes cannot be read is taken as upright."""
    try:
        return int(image.getexif().get(_ORIENTATION, 1))
    except Exception:
        return 1


def _fitted(size: tuple[int, int], longest: int) -> tuple[int, int]:
    """The same shape, with its longer side so long."""
    scale = min(1, longest / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def _encoded(image: Image.Image, longest: int) -> Made:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=_QUALITY)
    return Made(longest, *image.size, out.getvalue())
