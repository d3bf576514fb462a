"""From tags to the pages of a stock, and from these to one PDF."""

from collections.abc import Iterable, Iterator
from functools import cache
from itertools import islice
from pathlib import Path
from typing import BinaryIO

from shared.paper import document
from shared.paper.boxes import Tag
from shared.paper.stocks import Stock

# Drawing takes longer for each tag the more there are in a document: a long run is cut into several of so many.
TAGS_A_DOCUMENT = 200


def write(
    tags: Iterable[Tag], file: BinaryIO, stock: Stock, title: str, *, start: int = 1, cut_marks: bool = False
) -> int:
    """Writes the tags as one PDF, the first at that place of its sheet; returns how many pages it has.

    Tags are taken as they are drawn. Refuses where Pango is missing.
    """
    pages = stock.pages(tags, start=start, cut_marks=cut_marks)
    css = css_of(stock)
    documents = (document.pdf(document.page_of(title, some), css=css) for some in _several(pages, stock))
    return document.joined(documents, file, title)


@cache
def css_of(stock: Stock) -> str:
    """Everything that the pages of a stock look like."""
    return (Path(__file__).parent / "tag.css").read_text(encoding="utf-8") + stock.css()


def _several(pages: Iterator[str], stock: Stock) -> Iterator[list[str]]:
    while some := list(islice(pages, max(1, TAGS_A_DOCUMENT // len(stock.places)))):
        yield some
