"""The head of a tag: the mark of its kind, its code and its QR, in the ways they may stand to each other."""

from dataclasses import dataclass, replace

from shared.paper import qr
from shared.paper.boxes import Box
from tooling.drawing.tags import code as codes
from tooling.drawing.tags import marks, sizes
from tooling.drawing.tags.sizes import Sizes

# Heads are tried as tall as this, of the ordinary one.
_HEADS = (1.0, 0.8)
# A tag that stands as tall as this hangs by a string.
_HANGS = 90.0


@dataclass(frozen=True, slots=True)
class Head:
    """Mark, code and QR in their places, where the words begin, and how tall the letters of the code are."""

    boxes: tuple[Box, ...]
    qr: Box
    words: float
    capital: float


def heads_of(mark: str, code: str, look: Sizes, matrix: qr.Matrix) -> list[Head]:
    """The heads that there could be, the best first."""
    corner = qr.box(matrix, 0, 0, sizes.symbol(look, matrix))
    corner = replace(corner, x=look.wide - corner.wide - sizes.EDGE)
    make = _standing if look.upright else _lying
    found = [make(mark, code, look, corner, part) for part in _HEADS]
    return [head for head in (*found, _in_corner(mark, code, look, corner)) if head is not None]


def _lying(mark: str, code: str, look: Sizes, corner: Box, part: float) -> Head | None:
    """Mark and code in one row from side to side, the QR under them at the right."""
    row = look.mark_high * part
    tried = []
    for smaller in (1.0, 0.7):  # a code that is hard to read gets some of the mark's room
        mark_high = row * smaller
        mark_wide = mark_high * marks.MARK
        room = look.inner - mark_wide - look.gap
        fitted = codes.fitted(
            code, room, row, look.code_most, several=min(max(row * 1.4, codes.TWO_READABLE), row * 1.7)
        )
        tried.append((fitted, mark_wide, mark_high))
        if fitted.capital >= codes.READABLE:
            break
    fitted, mark_wide, mark_high = max(tried, key=lambda one: min(one[0].capital, codes.READABLE))
    if fitted.capital < codes.LEAST:
        return None
    high = max(mark_high, fitted.high)
    top = look.margin
    x = look.margin + mark_wide + look.gap
    boxes = (
        Box(look.margin, top + (high - mark_high) / 2, mark_wide, mark_high, mark, "mark"),
        Box(
            x,
            top + (high - fitted.high) / 2,
            look.wide - look.margin - x,
            fitted.high,
            fitted.html(),
            "code",
            fitted.look,
        ),
    )
    words = top + high + look.gap * 0.6
    # Its quiet zone is white already: the gap above may be that.
    return Head(boxes, replace(corner, y=top + high), words, fitted.capital)


def _in_corner(mark: str, code: str, look: Sizes, corner: Box) -> Head | None:
    """The QR in the upper corner, mark and code left of it, beside or over each other: for low and for small tags."""
    room, most, x, y = corner.x - look.gap * 0.4 - look.margin, look.code_most, look.margin, look.margin
    mark_high = look.mark_high * 0.8
    beside_x = mark_high * marks.MARK + look.gap
    beside = codes.fitted(code, max(room - beside_x, 0.1), mark_high, most, several=mark_high * 1.5)
    under = codes.fitted(code, max(room, 0.1), mark_high, most, several=mark_high * 1.5)
    if max(beside.capital, under.capital) < codes.LEAST:
        return None
    top = Box(x, y, mark_high * marks.MARK, mark_high, mark, "mark")
    if beside.capital >= min(codes.READABLE, under.capital * 0.85):
        said = Box(x + beside_x, y, room - beside_x, beside.high, beside.html(), "code", beside.look)
        words, capital = max(top.bottom, said.bottom), beside.capital
    else:
        said = Box(x, top.bottom + look.gap * 0.6, room, under.high, under.html(), "code", under.look)
        words, capital = said.bottom, under.capital
    return Head((top, said), replace(corner, y=sizes.EDGE), words + look.gap * 0.4, capital)


def _standing(mark: str, code: str, look: Sizes, corner: Box, part: float) -> Head | None:
    """Mark and QR in one row, the code under them from side to side; over them the hole of a tag that hangs."""
    side = corner.wide
    room = corner.x - look.gap - look.margin
    mark_high = min(room / marks.MARK, side * 0.8 * part)
    if mark_high < 3:
        return None
    fitted = codes.fitted(code, look.inner, look.code_most * 0.8, look.code_most, several=look.code_most * 1.3)
    if fitted.capital < codes.LEAST:
        return None
    # Its quiet zone is white already, and stands for some of the margin.
    top = max(sizes.EDGE, look.margin * 0.4)
    hole: tuple[Box, ...] = ()
    if look.high >= _HANGS:
        hole = (Box((look.wide - marks.HOLE) / 2, look.margin * 0.8, marks.HOLE, marks.HOLE, marks.hole(), "hole"),)
        top = hole[0].bottom
    mark_top = top + (side - mark_high) / 2
    below = top + side
    boxes = (
        *hole,
        Box(look.margin, mark_top, mark_high * marks.MARK, mark_high, mark, "mark"),
        Box(look.margin, below, look.inner, fitted.high, fitted.html(), "code", fitted.look),
    )
    return Head(boxes, replace(corner, y=top), below + fitted.high + look.gap * 0.6, fitted.capital)
