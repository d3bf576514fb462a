"""From HTML to PDF. Only here is WeasyPrint imported, and only when something is drawn: it takes half a second."""

import atexit
import gc
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from functools import cache, lru_cache
from html import escape
from typing import IO, TYPE_CHECKING, Any, BinaryIO

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from shared import libraries
from shared.errors import Refused
from shared.paper import letters

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration


def pdf(html: str, *, css: str = "") -> bytes:
    """A whole HTML page on paper, in the bundled font "Shop Paper" (400, 600, 700).

    Nothing is fetched but what stands in it: pictures go in as data: addresses. Refuses where Pango is missing.
    """
    with _without_sweeping():
        return bytes(laid_out(html, css=css).write_pdf())


def laid_out(html: str, *, css: str = "") -> Any:
    """The pages as WeasyPrint has them before they are written."""
    must_be_able()
    from weasyprint import HTML

    fonts, faces = _fonts()
    return HTML(string=html, url_fetcher=_fetcher()).render(stylesheets=[faces, _sheet(css)], font_config=fonts)


def must_be_able() -> None:
    """Refuse in a sentence where the libraries that draw are not on this machine."""
    if words := lacking():
        raise Refused(words)


def lacking() -> str:
    """What to install before anything can be drawn; "" where nothing is missing."""
    if not libraries.missing():
        return ""
    packages = " ".join(libraries.PACKAGES["apt-get"])
    message = _("Nothing can be drawn on paper yet: Pango is missing. On Debian and Ubuntu: %(line)s")
    return message % {"line": f"sudo apt-get install {packages}"}


def page_of(title: str, pages: Iterable[str]) -> str:
    """The HTML of a document: its title, and as they are the pieces of HTML that stand on its pages."""
    return f'<!doctype html><html lang="{get_language() or "en"}"><title>{escape(title)}</title><body>{"".join(pages)}'


def joined(documents: Iterable[bytes], file: BinaryIO, title: str) -> None:
    """Writes documents into a file, one behind the other; a single one as it is.

    They wait on the disk until all are drawn, so that the room that drawing took is there for joining them.
    """
    with ExitStack() as until:
        parts = []
        for document in documents:
            part = until.enter_context(tempfile.TemporaryFile())
            part.write(document)
            part.seek(0)
            parts.append(part)
        if len(parts) == 1:
            shutil.copyfileobj(parts[0], file)
        else:
            _join(parts, file, title)


def _join(parts: Iterable[IO[bytes]], file: BinaryIO, title: str) -> None:
    from pypdf import PdfWriter

    writer = PdfWriter()
    for part in parts:
        writer.append(part, import_outline=False)
    writer.metadata = {"/Title": title}
    writer.write(file)


@contextmanager
def _without_sweeping() -> Iterator[None]:
    """Inside, Python looks for no rings among its objects, then once among those that were made meanwhile.

    A document is millions of small ones that all stay until it is written: looking through them again and again
    takes a third of the time.
    """
    swept = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if swept:
            gc.enable()
            gc.collect(0)


@lru_cache(maxsize=32)
def _sheet(css: str) -> "CSS":
    """A stylesheet, read once for all documents that have it."""
    from weasyprint import CSS

    return CSS(string=css, font_config=_fonts()[0], url_fetcher=_fetcher())


@cache
def _fetcher() -> Any:
    """What stands in the document itself, and the fonts; nothing from a network or another folder."""
    from weasyprint.urls import URLFetcher

    return URLFetcher(allowed_protocols=("data",))


@cache
def _fonts() -> "tuple[FontConfiguration, CSS]":
    """The bundled fonts, read once a process."""
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    # Its files go away with it, which it cannot see to any more once Python itself is going.
    atexit.register(_fonts.cache_clear)
    faces = "".join(
        f'@font-face {{ font-family: "Shop Paper"; font-weight: {weight}; src: url("{_address(name)}") }}'
        for weight, name in letters.FILES.items()
    )
    return fonts, CSS(string=faces, font_config=fonts)


def _address(name: str) -> str:
    return (letters.FONTS / name).as_uri()
