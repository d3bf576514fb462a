"""What a picture's file holds besides its pixels: notes, colour profiles, whatever a program puts there.

It is walked through without being kept, before any library opens the file: millions of empty notes are refused here.
"""

import struct
from collections.abc import Iterator
from typing import BinaryIO

from shared import jpeg

MOST_PIECES = 20_000  # a large PNG is written in some thousand
_PNG, _RIFF = b"\x89PNG\r\n\x1a\n", b"RIFF"
_OF_PIXELS = (b"IDAT", b"VP8 ", b"VP8L", b"ALPH", b"ANMF")


def length_of_notes(file: BinaryIO) -> int:
    """How many bytes are no pixels, in a JPEG before its first scan. 0 for what is none of the kinds that are read.

    Raises ValueError where there are more pieces than a camera or program writes.
    """
    file.seek(0)
    head = file.read(12)
    if head.startswith(b"\xff\xd8"):
        lengths = jpeg.lengths_before_scan(file)
    elif head.startswith(_PNG):
        lengths = _of_chunks(file, at=len(_PNG), order=">", around=12, even=False)
    elif head.startswith(_RIFF) and head.endswith(b"WEBP"):
        lengths = _of_chunks(file, at=12, order="<", around=8, even=True)
    else:
        return 0
    total = 0
    for count, length in enumerate(lengths):
        if count > MOST_PIECES:
            raise ValueError("pieces without end")
        total += length
    return total


def _of_chunks(file: BinaryIO, *, at: int, order: str, around: int, even: bool) -> Iterator[int]:
    """The lengths of a file that is a row of named chunks, those of pixels as 0."""
    end = file.seek(0, 2)
    while at + 8 <= end:
        file.seek(at)
        head = file.read(8)
        name, length = (head[4:], head[:4]) if order == ">" else (head[:4], head[4:])
        (size,) = struct.unpack(f"{order}L", length)
        yield 0 if name in _OF_PIXELS else min(size, end - at)
        at += around + size + (size & 1 if even else 0)
