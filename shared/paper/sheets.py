"""From tags to the pages of a stock, and from these to one PDF."""

from collections.abc import Iterable, Iterator
from functools import cache
from itertools import islice
from pathlib import Path
from typing import BinaryIO

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.paper import document
from shared.paper.boxes import Tag
from shared.paper.stocks import Stock

# Drawing takes longer for each tag, and more room, the more there are in a document: a long run is cut into several.
TAGS_A_DOCUMENT = 100


def write(
    tags: Iterable[Tag], file: BinaryIO, stock: Stock, title: str, *, start: int = 1, cut_marks: bool = False
) -> int:
    """Writes the tags as one PDF, the first at that place of its sheet; returns how many pages it has.

    Tags are taken as they are drawn. Refuses where there are none, and where Pango is missing.
    """
    pages, css, count = stock.pages(tags, start=start, cut_marks=cut_marks), css_of(stock), 0

    def documents() -> Iterator[bytes]:
        nonlocal count
        while some := list(islice(pages, max(1, TAGS_A_DOCUMENT // len(stock.places)))):
            count += len(some)
            yield document.pdf(document.page_of(title, some), css=css)
        if not count:
            raise Refused(_("There is no tag to be printed."))

    document.joined(documents(), file, title)
    return count


@cache
def css_of(stock: Stock) -> str:
    """Everything that the pages of a stock look like."""
    return (Path(__file__).parent / "tag.css").read_text(encoding="utf-8") + stock.css()
