"""The tag that hangs on a tool while it is held: crossed tape from afar, then why, since when, by whom.

A tag that stands has the hole for a string at its top, the tape under it, the QR at its foot. One that lies has the
tape beside the code. The words become smaller first; then the tool's name is left out, then further reasons become a
sentence that there are more; the first reason is cut last of all, and ends in a sign that there is more of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from shared.paper import qr
from shared.paper.boxes import Box, Tag
from shared.paper.letters import BOLD, HALF, PLAIN
from tooling.drawing.tags import code as codes
from tooling.drawing.tags import marks, sizes
from tooling.drawing.tags.column import Column, NoRoom, largest
from tooling.drawing.tags.facts import HeldTag, Reason
from tooling.drawing.tags.runs import BETWEEN, Text, balanced, fit, plain, words_of
from tooling.drawing.tags.sizes import Sizes

# How tall the tape is, of the ordinary one: many words take some of its room.
_TAPES = (1.0, 0.7, 0.5)
# Large letters for the three words, of the width of a label; small ones of the words before a reason.
_SAYS, _SMALL = 6.4, 0.76
# The name of the tool, of the letters of a reason.
_NAME = 0.9
# What the words keep free under what stands above them, in gaps; a code may reach up to that.
_UNDER = 0.5
# How many lines the first reason keeps when it has to be cut.
_CUT = (6, 4, 3, 2, 1)
# And how many since when and by whom then have.
_SINCE = 2


@dataclass(frozen=True, slots=True)
class _Head:
    """What stands above the words, where these begin, and how tall the letters of the code are."""

    boxes: tuple[Box, ...]
    words: float
    capital: float


def draw_held(facts: HeldTag, wide: float, high: float, matrix: qr.Matrix) -> Tag:
    """The tag on a stock of that size."""
    look = sizes.sizes_of(wide, high)
    make = _standing if look.upright else _lying
    heads = [head for part in _TAPES if (head := make(facts, look, part)) is not None]
    symbol = sizes.symbol(look, matrix)
    side = symbol * matrix.across / matrix.modules
    corner = qr.box(matrix, wide - side - sizes.EDGE, high - side - sizes.EDGE, symbol)
    readable = [head for head in heads if head.capital >= min(codes.READABLE, heads[0].capital)]
    tag = _fullest(facts, look, corner, readable) or _fullest(facts, look, corner, heads)
    if tag is None:
        raise sizes.too_small(facts.code, wide, high)
    return tag


def _fullest(facts: HeldTag, look: Sizes, corner: Box, heads: list[_Head]) -> Tag | None:
    """The tag with the fewest words left out, under the first of the heads that allows it."""
    for way in _ways(len(facts.reasons), facts.name):
        for head in heads:
            words = largest(look.letters(), partial(_words, facts, look, head.words, corner, way))
            if words is not None:
                return Tag(
                    look.wide, look.high, (*head.boxes, corner, *words), way.left_out(len(facts.reasons), facts.name)
                )
    return None


@dataclass(frozen=True, slots=True)
class _Way:
    """What is said: so many reasons, the first on so many lines at most, when the tag comes off, the tool's name."""

    shown: int
    most: int | None = None
    comes_off: bool = True
    named: bool = False

    def left_out(self, reasons: int, name: str) -> tuple[str, ...]:
        """What is not."""
        missing = {
            "name": bool(name) and not self.named,
            "reasons": self.shown < reasons,
            "reason_end": self.most is not None,
            "comes_off": not self.comes_off,
        }
        return tuple(name for name, is_missing in missing.items() if is_missing)


def _ways(reasons: int, name: str) -> Iterator[_Way]:
    """What is said, from all of it to what is always."""
    if name:
        yield _Way(reasons, named=True)
    yield from (_Way(shown) for shown in range(reasons, 0, -1))
    yield from (_Way(1, most) for most in _CUT)
    yield from (_Way(1, most, comes_off=False) for most in _CUT)


def _standing(facts: HeldTag, look: Sizes, part: float) -> _Head | None:
    """Hole, tape, code and the three words, one under the other."""
    fitted = codes.fitted(facts.code, look.inner, look.high * 0.14, look.code_most * 1.2, several=look.high * 0.2)
    if fitted.capital < codes.LEAST:
        return None
    hole = min(marks.HOLE, look.wide * 0.1)
    y = look.margin * 0.8
    boxes = [Box((look.wide - hole) / 2, y, hole, hole, marks.hole(), "hole")]
    y += hole + look.gap * 0.6
    tape_wide = look.wide - 2 * look.margin * 0.75
    tape_high = min(tape_wide / marks.TAPE, look.high * 0.29) * part
    boxes.append(_tape((look.wide - tape_wide) / 2, y, tape_wide, tape_high))
    y += tape_high + look.gap
    boxes.append(Box(look.margin, y, look.inner, fitted.high, fitted.html(), "code", fitted.look))
    y += fitted.high + look.gap * 0.4
    says = _says(facts, look, look.inner)
    boxes.append(Box(look.margin, y, look.inner, says.high, says.html(), "says", says.look))
    return _Head(tuple(boxes), y + says.high + look.gap * _UNDER, fitted.capital)


def _lying(facts: HeldTag, look: Sizes, part: float) -> _Head | None:
    """The tape at the left, code and the three words beside it."""
    tape_wide = look.inner * 0.33 * part
    x = look.margin + tape_wide + look.gap
    room = look.wide - look.margin - x
    row = look.mark_high * part
    fitted = codes.fitted(facts.code, room, row * 0.85, look.code_most, several=row * 1.3)
    if fitted.capital < codes.LEAST:
        return None
    says = _says(facts, look, room)
    top = look.margin
    boxes = [
        Box(x, top, room, fitted.high, fitted.html(), "code", fitted.look),
        Box(x, top + fitted.high + look.gap * 0.3, room, says.high, says.html(), "says", says.look),
    ]
    below = boxes[-1].bottom
    boxes.insert(0, _tape(look.margin, top, tape_wide, below - top))
    return _Head(tuple(boxes), below + look.gap * _UNDER, fitted.capital)


def _tape(x: float, y: float, wide: float, high: float) -> Box:
    return Box(x, y, wide, high, marks.crossed_tape(wide, high), "tape")


def _says(facts: HeldTag, look: Sizes, wide: float) -> Text:
    """On one line, as large as it fits there."""
    most = _SAYS * max(look.scale * 1.2 if look.upright else look.scale, 0.35)
    size = min(most, most * wide * 0.99 / plain(facts.says, 1e6, most, BOLD).wide)
    return plain(facts.says, wide * 1.01, size, BOLD)


def _words(facts: HeldTag, look: Sizes, top: float, corner: Box, way: _Way, size: float) -> list[Box]:
    """The reasons, and when the tag comes off; NoRoom where they do not fit."""
    if corner.y < top - look.gap * _UNDER:
        raise NoRoom
    column = Column(look.margin, top, look.inner, look.high - look.margin, look.gap * 0.4, corner)
    if way.named:
        column.put("name", lambda wide: plain(facts.name, wide, size * _NAME, HALF, most=1), after=size * 0.2)
    for at, reason in enumerate(facts.reasons[: way.shown]):
        _reason(column, facts, reason, size, first=at == 0, most=way.most)
    left = len(facts.reasons) - way.shown
    if left:
        column.put("more", lambda wide: plain(facts.more[left - 1], wide, size, HALF), after=size * 0.2)
    if not way.comes_off:
        return column.boxes
    room = corner.x - look.gap * 0.4 - look.margin
    comes_off = balanced(facts.comes_off, room, [max(size * 0.8, look.smallest * 0.92)])
    # It keeps to the foot of the tag where the reasons are few.
    foot = look.high - look.margin - comes_off.high
    if foot < column.y:
        raise NoRoom
    box = Box(look.margin, foot, room, comes_off.high, comes_off.html(), "comes_off", comes_off.look)
    return [*column.boxes, box]


def _reason(column: Column, facts: HeldTag, reason: Reason, size: float, *, first: bool, most: int | None) -> None:
    small = size * _SMALL
    if first:
        column.put("why", lambda wide: plain(facts.why, wide, small))
    column.put("reason", lambda wide: plain(reason.why, wide, size, HALF, most=most), after=size * 0.1)
    runs = [(facts.since, PLAIN), (reason.since, BOLD)]
    if reason.by:  # a blank that binds: no line ends with the first of both
        by, *rest = reason.by.split()
        runs += [(BETWEEN, PLAIN), (f"{facts.by}\N{NO-BREAK SPACE}{by}", PLAIN), (" ".join(rest), PLAIN)]
    column.put(
        "since", lambda wide: fit(words_of(*runs), wide, size * 0.9, most=_SINCE if most else None), after=size * 0.3
    )
