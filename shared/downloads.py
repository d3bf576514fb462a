"""A file to be kept, in one piece or from where a slow line broke off: the browser asks for the rest by itself."""

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from django.http import FileResponse, HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.utils.http import content_disposition_header

_PIECE = 1 << 16
_RANGE = re.compile(r"bytes=(\d{0,18})-(\d{0,18})")


def reply(request: HttpRequest, path: Path) -> HttpResponseBase:
    """The file under its own name, or the part of it that was asked for (RFC 9110, 14)."""
    file = path.open("rb")
    told = os.fstat(file.fileno())
    tag = f'"{told.st_mtime_ns:x}-{told.st_size:x}"'
    span = _span(request.headers.get("Range", ""), told.st_size) if request.method == "GET" else None
    # What was begun of another file is not gone on with.
    if span is None or request.headers.get("If-Range", tag) != tag:
        made: HttpResponseBase = FileResponse(file, as_attachment=True, filename=path.name)
    elif not span:
        file.close()
        made = HttpResponse(status=416, headers={"Content-Range": f"bytes */{told.st_size}"})
    else:
        made = _part(file, span, told.st_size)
        made["Content-Disposition"] = content_disposition_header(True, path.name)
    made["Accept-Ranges"], made["ETag"] = "bytes", tag
    return made


def _span(asked: str, size: int) -> range | None:
    """The bytes that were asked for, empty where there are none such; None where the whole is meant."""
    match = _RANGE.fullmatch(asked.strip())
    if match is None or match[0] == "bytes=-":
        return None
    if not match[1]:
        return range(max(size - int(match[2]), 0), size)
    first, last = int(match[1]), int(match[2]) if match[2] else size
    return None if last < first else range(first, min(last + 1, size))


def _part(file: BinaryIO, span: range, size: int) -> StreamingHttpResponse:
    file.seek(span.start)
    made = StreamingHttpResponse(_pieces(file, len(span)), status=206, content_type="application/octet-stream")
    made["Content-Length"] = str(len(span))
    made["Content-Range"] = f"bytes {span.start}-{span.stop - 1}/{size}"
    return made


def _pieces(file: BinaryIO, left: int) -> Iterator[bytes]:
    with file:
        while left > 0 and (piece := file.read(min(left, _PIECE))):
            left -= len(piece)
            yield piece
