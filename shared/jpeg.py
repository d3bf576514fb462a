"""What the header of a JPEG says about the memory that decoding it takes."""

import struct
from collections.abc import Iterator
from typing import BinaryIO

# Start of frame: baseline, extended, progressive. Cameras write no other kind.
_FRAMES = (0xC0, 0xC1, 0xC2)
_OTHER_FRAMES = (0xC3, 0xC5, 0xC6, 0xC7, 0xC9, 0xCA, 0xCB, 0xCD, 0xCE, 0xCF)
_SCAN = 0xDA
_LENGTH = 2
_PROGRESSIVE = 0xC2
# A progressive picture is drawn over and over; cameras and programs do so about ten times.
MOST_SCANS = 100
_PIECE = 1 << 20


def held_whole(file: BinaryIO) -> int:
    """The bytes of coefficients that a decoder holds at once.

    0 where the picture is one scan, which is decoded line by line; a progressive one, or one scan a colour, is held
    whole whatever the size that is asked for. Raises ValueError for what is no JPEG of a kind that cameras write.
    """
    file.seek(2)
    kind, samples, colours = 0, 0, 0
    while (marker := _marker(file)) != _SCAN:
        if marker in _OTHER_FRAMES:
            raise ValueError("a kind of JPEG that no camera writes")
        (length,) = struct.unpack(">H", _exactly(file, _LENGTH))
        body = _exactly(file, length - _LENGTH)
        if marker in _FRAMES:
            kind, colours, samples = marker, body[5], _samples(body)
    if not kind:
        raise ValueError("no frame before the first scan")
    of_scan = _exactly(file, _LENGTH + 1)[-1]
    if kind != _PROGRESSIVE and of_scan == colours:
        return 0
    if _scans(file) > MOST_SCANS:
        raise ValueError("scans without end")
    return 2 * samples


def lengths_before_scan(file: BinaryIO) -> Iterator[int]:
    """The lengths of all segments before the first scan. Raises ValueError as above."""
    file.seek(2)
    while _marker(file) != _SCAN:
        (length,) = struct.unpack(">H", _exactly(file, _LENGTH))
        _exactly(file, length - _LENGTH)
        yield length


def _scans(file: BinaryIO) -> int:
    """How many scans there are, at most: the letters of their marker stand nowhere in what is packed."""
    file.seek(0)
    count, before = 0, b""
    while piece := file.read(_PIECE):
        count += (before + piece).count(bytes((0xFF, _SCAN)))
        before = piece[-1:]
    return count


def _samples(frame: bytes) -> int:
    """How many numbers the picture is made of, all colours together."""
    _precision, height, width, colours = struct.unpack(">BHHB", frame[:6])
    sampling = [(frame[7 + 3 * i] >> 4, frame[7 + 3 * i] & 15) for i in range(colours)]
    across, down = max(h for h, _ in sampling), max(v for _, v in sampling)
    return sum(width * height * h * v // (across * down) for h, v in sampling)


def _marker(file: BinaryIO) -> int:
    if _exactly(file, 1) != b"\xff":
        raise ValueError("no marker where one must be")
    while (byte := _exactly(file, 1)) == b"\xff":
        pass
    return byte[0]


def _exactly(file: BinaryIO, count: int) -> bytes:
    read = file.read(count) if count >= 0 else b""
    if len(read) != count:
        raise ValueError("the header ends too early")
    return read
