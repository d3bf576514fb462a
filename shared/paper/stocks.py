"""What is printed on: the size of a tag by name, or a sheet with places for several. All in mm, upright sheets.

Sources: an ID-1 card is 85.60 x 53.98 (ISO/IEC 7810), A7 is 74 x 105 and A4 210 x 297 (ISO 216), Letter is
8 1/2 x 11 inches (ANSI/ASME Y14.1). The label is a size that rolls and sheets of labels are sold in (common practice,
no source), and so is the margin that an office printer leaves white.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.paper.boxes import Tag

Size = tuple[float, float]
CARD, LABEL, A7 = "card", "label", "a7"
A4_SHEET, LETTER_SHEET, CUSTOM = "a4-sheet", "letter-sheet", "custom"
TAGS: dict[str, Size] = {CARD: (85.60, 53.98), LABEL: (100, 60), A7: (74, 105)}
SHEETS: dict[str, Size] = {A4_SHEET: (210, 297), LETTER_SHEET: (215.9, 279.4)}
NAMES = (*TAGS, *SHEETS)
MARGIN = 5
# No tag is smaller or larger, whatever somebody types.
SMALLEST, LARGEST = 20, 300
# A cut mark begins so far off the tags, is so long and so thin: it ends a millimetre from the edge of the sheet.
_OFF, _MARK, _HAIR = 1, 3, 0.1
_SIZE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*[x×X*]\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*")


@dataclass(frozen=True, slots=True)
class Stock:
    """Tags of one size, alone on a page of their size or in rows and columns on a sheet."""

    name: str
    wide: float
    high: float
    sheet: Size | None = None

    @property
    def page(self) -> Size:
        return self.sheet or (self.wide, self.high)

    @property
    def columns(self) -> int:
        return _so_many(self.sheet[0], self.wide) if self.sheet else 1

    @property
    def rows(self) -> int:
        return _so_many(self.sheet[1], self.high) if self.sheet else 1

    @property
    def places(self) -> list[tuple[float, float]]:
        """The upper left corners of the tags of a page, in reading order, the whole in the middle of the sheet."""
        left, top = self.corner
        return [
            (left + column * self.wide, top + row * self.high)
            for row in range(self.rows)
            for column in range(self.columns)
        ]

    @property
    def corner(self) -> tuple[float, float]:
        wide, high = self.page
        return (wide - self.columns * self.wide) / 2, (high - self.rows * self.high) / 2

    def check_start(self, start: int) -> None:
        """Refuse to begin at a place that a sheet does not have; places count from 1."""
        if 1 <= start <= len(self.places):
            return
        if self.sheet is None:
            raise Refused(_("Every tag has a page of its own here: only a sheet has places to start from."), "start")
        message = _("A sheet has the places 1 to %(most)d here, none is %(start)d.")
        raise Refused(message % {"most": len(self.places), "start": start}, "start")

    def check_cut_marks(self) -> None:
        """Refuse marks where the page is the tag: there is nothing beside it to mark."""
        if self.sheet is None:
            raise Refused(_("The page is the tag here, there is nothing to cut. Marks are for sheets."), "cut_marks")

    def pages(self, tags: Iterable[Tag], *, start: int = 1, cut_marks: bool = False) -> Iterator[str]:
        """The pages that hold the tags, as HTML; the first begins at that place, later ones at their first."""
        free, page = self.places[start - 1 :], ""
        marks = "".join(_mark(*place) for place in self.marks()) if cut_marks else ""
        for tag in tags:
            page += tag.html(*free[0])
            free = free[1:]
            if not free:
                yield self._page(page + marks)
                free, page = self.places, ""
        if page:
            yield self._page(page + marks)

    def marks(self) -> list[tuple[float, float, float, float]]:
        """Hairlines that say where to cut, all of them outside of the tags: from the left, the top, width, height."""
        (left, top), (page_wide, page_high) = self.corner, self.page
        right, bottom = page_wide - left, page_high - top
        marks: list[tuple[float, float, float, float]] = []
        for column in range(self.columns + 1):
            x = left + column * self.wide - _HAIR / 2
            marks += [(x, y, _HAIR, _MARK) for y in (top - _OFF - _MARK, bottom + _OFF)]
        for row in range(self.rows + 1):
            y = top + row * self.high - _HAIR / 2
            marks += [(x, y, _MARK, _HAIR) for x in (left - _OFF - _MARK, right + _OFF)]
        return marks

    def css(self) -> str:
        """What makes the pages of a document so large."""
        wide, high = (f"{side:.2f}mm" for side in self.page)
        return f"@page {{ size: {wide} {high}; margin: 0 }} .paper {{ width: {wide}; height: {high} }}"

    @staticmethod
    def _page(inner: str) -> str:
        return f'<section class="paper">{inner}</section>'


def stock(name: str = "", size: Size | None = None) -> Stock:
    """The stock of that name; a size alone is a stock of its own, with a sheet it fills the sheet.

    Refuses names and sizes that there are not.
    """
    if name in ("", CUSTOM) and size:
        return Stock(CUSTOM, *size)
    if name == CUSTOM:
        raise Refused(_("The stock %(name)s wants a size, such as 90x50.") % {"name": name}, "size")
    if name in SHEETS:
        return _on_sheet(name, size or TAGS[LABEL])
    if name not in TAGS:
        message = _("There is no stock “%(name)s”. There are %(names)s; or give a size, such as 90x50.")
        raise Refused(message % {"name": name, "names": ", ".join(NAMES)}, "stock")
    if size and size != TAGS[name]:
        message = _(
            "The stock %(name)s has its own size. Leave the name out, or take a sheet to be filled with that size."
        )
        raise Refused(message % {"name": name}, "size")
    return Stock(name, *TAGS[name])


def read_size(text: str) -> Size:
    """A size as people type it: 90x50, in mm. Refuses what is none, and sides that no tag has."""
    match = _SIZE.fullmatch(text)
    if match is None:
        message = _("“%(text)s” is no size. Write width and height in mm, such as 90x50.")
        raise Refused(message % {"text": text}, "size")
    wide, high = (float(side.replace(",", ".")) for side in match.groups())
    check_size(wide, high)
    return wide, high


def check_size(wide: float, high: float) -> None:
    """Refuse sides that no tag has."""
    if not all(SMALLEST <= side <= LARGEST for side in (wide, high)):
        message = _("The sides of a tag are %(least)d to %(most)d mm; these are %(wide)g and %(high)g.")
        raise Refused(message % {"least": SMALLEST, "most": LARGEST, "wide": wide, "high": high}, "size")


def _on_sheet(name: str, size: Size) -> Stock:
    stock = Stock(name, *size, sheet=SHEETS[name])
    if not stock.rows or not stock.columns:
        message = _(
            "A tag of %(wide)g x %(high)g mm does not fit on the sheet %(name)s with a margin of %(margin)d mm."
        )
        raise Refused(message % {"wide": size[0], "high": size[1], "name": name, "margin": MARGIN}, "size")
    return stock


def _so_many(sheet: float, tag: float) -> int:
    """How often a side goes into that of the sheet between its margins; a hair's breadth of rounding is let through."""
    return int((sheet - 2 * MARGIN + 1e-6) // tag)


def _mark(x: float, y: float, wide: float, high: float) -> str:
    return f'<i class="cut" style="left:{x:.2f}mm;top:{y:.2f}mm;width:{wide:.2f}mm;height:{high:.2f}mm"></i>'
