"""Thirty pictures as phones write them: every format and orientation, each with its position and more in its notes.

Run as `python -m tests.shared.phone_pictures FOLDER CODE [CODE ...]`: the files are named by the codes in turn.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, PngImagePlugin

# What the camera saw, from left above to right below.
CORNERS = ((200, 30, 30), (30, 160, 60), (30, 60, 200), (240, 240, 240))
SECRET = "Saltbatch Phone 9"
# How a camera that was held otherwise lays the upright picture down.
_LAID_DOWN = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
_KINDS = (
    ("jpg", {"quality": 92}),
    ("jpeg", {"quality": 88, "progressive": True, "subsampling": 0}),
    ("png", {"compress_level": 1}),
    ("webp", {"quality": 85, "method": 0}),
)


@dataclass(frozen=True)
class Phone:
    """One of the thirty, before it is written."""

    number: int
    suffix: str
    how: dict
    orientation: int
    size: tuple[int, int]  # upright


def seen(size: tuple[int, int]) -> Image.Image:
    """The upright picture: four fields of colour."""
    width, height = size
    picture = Image.new("RGB", size)
    for i, colour in enumerate(CORNERS):
        left, top = i % 2 * (width // 2), i // 2 * (height // 2)
        picture.paste(colour, (left, top, left + width, top + height))
    return picture


def corners(picture: Image.Image) -> list[tuple[int, int, int]]:
    """The colours of the four fields of a picture."""
    width, height = picture.size
    rgb = picture.convert("RGB")
    return [rgb.getpixel((width * x // 4, height * y // 4)) for y in (1, 3) for x in (1, 3)]


def is_upright(picture: Image.Image) -> bool:
    """Whether every field lies where the camera saw it."""
    pairs = zip(corners(picture), CORNERS, strict=True)
    return all(abs(a - b) < 20 for got, want in pairs for a, b in zip(got, want, strict=True))


def notes(orientation: int) -> Image.Exif:
    """What a phone writes beside the pixels: how it was held, which phone, when, and where."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010F], exif[0x0110], exif[0x0132] = orientation, SECRET, SECRET, "2026:03:02 12:00:00"
    exif.get_ifd(0x8825).update({1: "N", 2: (58.0, 24.0, 36.5), 3: "E", 4: (8.0, 45.0, 12.0)})
    return exif


def laid_down(picture: Image.Image, orientation: int) -> Image.Image:
    """The pixels as they lie in a file with that orientation."""
    way = _LAID_DOWN.get(orientation)
    return picture if way is None else picture.transpose(way)


def thirty() -> Iterator[Phone]:
    """Each kind of file in each orientation; the first is as large as a phone's, two stand tall."""
    cases = [(kind, orientation) for kind in _KINDS for orientation in range(1, 9)][:30]
    for number, ((suffix, how), orientation) in enumerate(cases, 1):
        size = (4000, 3000) if number == 1 else (600, 900) if number in (7, 14) else (900, 675)
        yield Phone(number, suffix, how, orientation, size)


def write(phone: Phone, path: Path) -> None:
    """The file, with all its notes."""
    more: dict = {"exif": notes(phone.orientation)}
    if phone.suffix == "png":
        text = PngImagePlugin.PngInfo()
        text.add_text("Where", SECRET)
        more["pnginfo"] = text
    else:
        more["xmp"] = f"<x:xmpmeta>{SECRET}</x:xmpmeta>".encode()
    if phone.suffix in ("jpg", "jpeg"):
        more["comment"] = SECRET.encode()
    laid_down(seen(phone.size), phone.orientation).save(path, **phone.how, **more)


def main(folder: str, *codes: str) -> None:
    """Write all thirty."""
    Path(folder).mkdir(parents=True, exist_ok=True)
    for phone in thirty():
        write(phone, Path(folder, f"{codes[phone.number % len(codes)]}_{phone.number}.{phone.suffix}"))


if __name__ == "__main__":
    main(*sys.argv[1:])
