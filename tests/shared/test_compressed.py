"""Pages travel compressed, files do not."""

import gzip
from io import BytesIO

from django.http import FileResponse, HttpResponse, StreamingHttpResponse
from django.test import RequestFactory

from shared.compressed import CompressedPages

PAGE = b"<p>Ready: 2 pulls, then wax.</p>" * 40


def answered(reply, **headers):
    return CompressedPages(lambda request: reply)(RequestFactory().get("/", **headers))


def test_a_page_is_compressed_for_a_browser_that_takes_it():
    reply = answered(HttpResponse(PAGE), HTTP_ACCEPT_ENCODING="gzip, br")
    assert reply["Content-Encoding"] == "gzip"
    assert len(reply.content) < len(PAGE) / 2
    assert gzip.decompress(reply.content) == PAGE
    assert "Accept-Encoding" in reply["Vary"]


def test_a_program_that_does_not_gets_it_as_it_is():
    assert answered(HttpResponse(PAGE)).content == PAGE


def test_a_file_and_what_comes_in_pieces_stay_as_they_are():
    for reply in (
        FileResponse(BytesIO(PAGE), filename="shop.zip"), StreamingHttpResponse([PAGE], content_type="text/html"),
        HttpResponse(PAGE, content_type="image/jpeg"),
    ):  # fmt: skip
        came = answered(reply, HTTP_ACCEPT_ENCODING="gzip")
        assert not came.has_header("Content-Encoding")
