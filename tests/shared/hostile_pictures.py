"""Files that are no pictures, or dangerous ones, by what is wrong with them."""

import io
import os
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from tests.shared.phone_pictures import seen

MIB = 1 << 20


def _saved(picture: Image.Image, kind: str, **how) -> bytes:
    out = io.BytesIO()
    picture.save(out, kind, **how)
    return out.getvalue()


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(width: int, height: int, data: bytes = b"", *more: bytes, kind: int = 2) -> bytes:
    """A PNG whose header says so many pixels; `kind`: 2 colours, 6 colours that can be seen through."""
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, kind, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + header + b"".join(more) + chunk(b"IDAT", zlib.compress(data)) + chunk(b"IEND", b"")


def resized_header(jpeg: bytes, width: int, height: int) -> bytes:
    """The same JPEG, whose frame says another size."""
    at = next(i for i in range(len(jpeg)) if jpeg[i : i + 2] in (b"\xff\xc0", b"\xff\xc2"))
    return jpeg[: at + 5] + struct.pack(">HH", height, width) + jpeg[at + 9 :]


def _moving(kind: str) -> bytes:
    frames = [seen((64, 48)), seen((64, 48)).transpose(Image.Transpose.FLIP_LEFT_RIGHT)]
    return _saved(frames[0], kind, save_all=True, append_images=frames[1:], duration=100)


@dataclass(frozen=True)
class Hostile:
    """A file, made when it is wanted, the beginning of what is said about it, and how long it is made with nothing."""

    make: Callable[[], bytes]
    said: str
    length: int = 0

    def write(self, path: Path) -> Path:
        """The file; what only makes it long takes no room on the disk."""
        path.write_bytes(self.make())
        if self.length:
            os.truncate(path, self.length)
        return path


def _jpeg() -> bytes:
    return _saved(seen((900, 600)), "JPEG")


def _progressive() -> bytes:
    return _saved(seen((900, 600)), "JPEG", progressive=True, subsampling=0)


def _packed_text() -> bytes:
    return png(64, 48, b"", chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(64 * MIB))))


def _endless() -> bytes:
    """Its last scan again and again: a small file that takes minutes to draw."""
    whole = _progressive()
    last = whole.rindex(b"\xff\xda")
    return whole[:-2] + whole[last:-2] * 5000 + whole[-2:]


def _empty_notes() -> bytes:
    """A JPEG with a hundred thousand notes of no words."""
    whole = _jpeg()
    return whole[:2] + b"\xff\xed\0\2" * 100_000 + whole[2:]


def _half(data: bytes) -> bytes:
    return data[: len(data) // 2]


_PAGE = b"<!DOCTYPE html><script>alert(1)</script>"
_BROKEN, _NONE, _MANY = "The picture is broken", "This is no picture", "The picture has too many pixels"
_LARGE = "The file is larger than 50 MB"
HOSTILE = {
    "empty": Hostile(bytes, "The file is empty"),
    "one byte": Hostile(lambda: b"\xff", _NONE),
    "a page called .jpg": Hostile(lambda: _PAGE, _NONE),
    "a page behind the first bytes of a JPEG": Hostile(lambda: b"\xff\xd8\xff\xe0" + _PAGE, _BROKEN),
    "a drawing with a script": Hostile(lambda: b'<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>', _NONE),
    "a program called .png": Hostile(lambda: b"\x7fELF" + bytes(4000), _NONE),
    "a PDF": Hostile(lambda: b"%PDF-1.7\n" + bytes(400), _NONE),
    "a TIFF": Hostile(lambda: _saved(seen((60, 40)), "TIFF"), _NONE),
    "a BMP": Hostile(lambda: _saved(seen((60, 40)), "BMP"), _NONE),
    "a GIF": Hostile(lambda: _saved(seen((60, 40)), "GIF"), "This is a GIF"),
    "a film": Hostile(lambda: b"\0\0\0\x18ftypmp42" + bytes(400), "This is a film"),
    "half a JPEG": Hostile(lambda: _half(_jpeg()), _BROKEN),
    "the header of a JPEG": Hostile(lambda: _jpeg()[:200], _BROKEN),
    "half a PNG": Hostile(lambda: _half(_saved(seen((900, 600)), "PNG")), _BROKEN),
    "half a WebP": Hostile(lambda: _half(_saved(seen((900, 600)), "WEBP")), _BROKEN),
    "a PNG with a false check": Hostile(lambda: _saved(seen((64, 48)), "PNG").replace(b"IDAT", b"IDAt"), _NONE),
    "a PNG that moves": Hostile(lambda: _moving("PNG"), "The picture moves"),
    "a WebP that moves": Hostile(lambda: _moving("WEBP"), "The picture moves"),
    "a PNG of 900 million pixels": Hostile(lambda: png(30_000, 30_000), _MANY),
    "a PNG of 64 million pixels": Hostile(lambda: png(8000, 8000, bytes(8000 * 24_001)), _MANY),
    "a PNG with a packed text of 64 MB": Hostile(_packed_text, _BROKEN),
    "a JPEG that says 4 thousand million pixels": Hostile(lambda: resized_header(_jpeg(), 65_500, 65_500), _MANY),
    "a progressive JPEG of 200 million pixels": Hostile(lambda: resized_header(_progressive(), 16_000, 12_500), _MANY),
    "a JPEG of 5000 scans": Hostile(_endless, _BROKEN),
    "a WebP of 36 million pixels": Hostile(
        lambda: _saved(Image.new("RGB", (6000, 6000)), "WEBP", lossless=True, quality=0, method=0), _MANY
    ),
    "a line of 20 million pixels, twice": Hostile(lambda: png(20_000_000, 2, kind=6), _MANY),
    "a PNG with a note of 48 MB": Hostile(
        lambda: png(64, 48, b"", chunk(b"prIv", bytes(48 * MIB))), "The file holds more than 16 MB besides"
    ),
    "a PNG with a tenth of a million empty notes": Hostile(
        lambda: png(64, 48, b"", chunk(b"prIv", b"") * 100_000), _BROKEN
    ),
    "a JPEG with a tenth of a million empty notes": Hostile(_empty_notes, _BROKEN),
    "200 MB": Hostile(_jpeg, _LARGE, 200 * MIB),
    "200 MB of nothing": Hostile(bytes, _LARGE, 200 * MIB),
}
