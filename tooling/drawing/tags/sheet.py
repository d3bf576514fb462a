"""The engine: a tag of a tool or a place as a head (mark and code), words, the QR, a row of gates and a foot.

A tag that lies has its QR under the head, at the right, and the words beside it; one that stands has mark and QR in one
row, the code under them and then the words. What does not fit is made smaller first, down to `Sizes.smallest`; then
words are left out one after the other, in the order of `facts.LEFT_OUT_FIRST`, each time with the largest letters.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import product

from shared.paper import qr
from shared.paper.boxes import Box, Tag
from shared.paper.letters import BOLD, HALF, PLAIN
from tooling.drawing.tags import code as codes
from tooling.drawing.tags import marks, sizes
from tooling.drawing.tags.column import Column, NoRoom, largest
from tooling.drawing.tags.facts import LEFT_OUT_FIRST, Line, Piece
from tooling.drawing.tags.heads import Head, heads_of
from tooling.drawing.tags.runs import BETWEEN, Text, balanced, fit, plain, words_of
from tooling.drawing.tags.sizes import Sizes

# A name that has to be cut keeps as many lines as it can.
_NAME_CUT = (6, 5, 4, 3, 2, 1)
_STEP = 0.1
# Words below so much of the largest come after a lower head.
_EASY = 0.82
# The least that the letters of a caution are made smaller for one line less.
_CAUTION_STEPS = (1.0, 0.97, 0.94, 0.91, 0.88)


@dataclass(frozen=True, slots=True)
class Foot:
    """The last words of a tag under a line across it: `size` of their letters, `rule` how thick the line is."""

    name: str
    words: str
    size: float
    rule: float
    weight: int = PLAIN


@dataclass(frozen=True, slots=True)
class Said:
    """All that a tag says; `mark`: its picture; `pulls`: the words before the empty gates, "" without.

    `large`: how much larger than on a tool's tag head and words may be.
    """

    mark: str
    code: str
    name: str
    lines: tuple[Line, ...]
    foot: Foot | None
    pulls: str = ""
    large: float = 1.0

    @property
    def steps(self) -> list[str]:
        """What of it may be left out, the first first."""
        has = {piece.name for line in self.lines for piece in line} | {"name_end"}
        return [name for name in LEFT_OUT_FIRST if name in has or (name == "gates" and self.pulls)]


def lay_out(said: Said, wide: float, high: float, matrix: qr.Matrix) -> Tag:
    """The tag; refuses a stock that has no room for what is never left out."""
    look = sizes.sizes_of(wide, high, said.large)
    heads = heads_of(said.mark, said.code, look, matrix)
    readable = [head for head in heads if head.capital >= min(codes.READABLE, heads[0].capital)]
    tag = _fullest(said, look, readable) or _fullest(said, look, heads)
    if tag is None:
        raise sizes.too_small(said.code, wide, high)
    return tag


def _fullest(said: Said, look: Sizes, heads: list[Head]) -> Tag | None:
    """The tag with the fewest words left out, under the first of the heads that allows it."""
    letters = look.letters()
    easy = [size for size in letters if size >= look.largest * _EASY]
    for count in range(len(said.steps) + 1):
        left_out = tuple(said.steps[:count])
        for most in _NAME_CUT if "name_end" in left_out else (None,):
            layouts = [_Layout(said, look, head, frozenset(left_out), most) for head in heads]
            for some, layout in product((easy, letters[len(easy) :]), layouts):
                boxes = largest(some, layout.boxes) if layout.fits else None
                if boxes is not None:
                    return Tag(look.wide, look.high, (*layout.head.boxes, layout.head.qr, *boxes), left_out)
    return None


class _Layout:
    """One try: under this head, without these words, the name on so many lines at most."""

    def __init__(self, said: Said, look: Sizes, head: Head, without: frozenset[str], most: int | None) -> None:
        self.said, self.look, self.head, self.size = said, look, head, look.largest
        self.without, self.most = without, most

    @cached_property
    def fits(self) -> bool:
        """Whether it has room at all: in the smallest letters."""
        return largest([self.look.smallest], self.boxes) is not None

    def boxes(self, size: float) -> list[Box]:
        """Name and lines in letters of that size, gates, foot; NoRoom where they have none."""
        self.size = size
        look, bottom = self.look, self.look.high - self.look.margin * 0.8
        below: list[Box] = []
        if self.said.foot is not None:
            below += self._foot(self.said.foot, bottom)
            bottom = below[0].y
        if self.said.pulls and "gates" not in self.without:
            row = self._gates(bottom - look.gap * 0.2)
            below += row
            bottom = row[0].y - look.gap * 0.25
        if any(self.head.qr.overlaps(box) for box in below) or self.head.qr.bottom > look.high - sizes.EDGE:
            raise NoRoom
        column = Column(
            look.margin, self.head.words, look.inner, bottom - look.gap * 0.15, look.gap * 0.4, self.head.qr
        )
        column.put("name", self._name, after=self.size * 0.15)
        for line in self.said.lines:
            self._line(column, [piece for piece in line if piece.name not in self.without or piece.name == "lift"])
        return [*column.boxes, *below]

    def _name(self, wide: float) -> Text:
        """On two lines as long as it is larger than the words under it; then on as many as it takes."""
        size, least = self.size * 1.23, self.size
        if self.most is not None:
            return plain(self.said.name, wide, least, HALF, most=self.most)
        while size > least:
            said = plain(self.said.name, wide, size, HALF)
            if len(said.rows) <= 2:
                return said
            size -= _STEP
        return plain(self.said.name, wide, least, HALF)

    def _line(self, column: Column, pieces: list[Piece]) -> None:
        if not pieces:
            return
        runs = list(self._runs(pieces))
        if not runs:
            return
        column.put(pieces[0].name, lambda wide: fit(words_of(*runs), wide, self.size))

    def _runs(self, pieces: Iterable[Piece]) -> Iterator[tuple[str, int]]:
        joined = False
        for piece in pieces:
            said, before = piece.words, piece.before
            if piece.name in self.without:  # the lift, in a sentence that leads to its words
                said, before = ("", "") if "mass" in self.without else (piece.instead, "")
            if not (said or before):
                continue
            if joined:
                yield BETWEEN, PLAIN
            yield (before if joined else before[:1].upper() + before[1:]), PLAIN
            yield said, BOLD
            joined = True

    def _foot(self, foot: Foot, bottom: float) -> list[Box]:
        """A line across, and the words under it."""
        look = self.look
        size = foot.size * look.scale
        tried = [max(size * part, look.smallest * 0.92) for part in _CAUTION_STEPS]
        said = balanced(foot.words, look.inner, tried, foot.weight)
        top = bottom - said.high
        thick = max(foot.rule * min(look.scale, 1.5), 0.2)
        rule = Box(look.margin, top - 0.9 * look.scale - thick, look.inner, thick, _RULE, "rule")
        if not said.rows:
            return [rule]
        return [rule, Box(look.margin, top, look.inner, said.high, said.html(), foot.name, said.look)]

    def _gates(self, bottom: float) -> list[Box]:
        """The words, and as many gates as a pencil has room for."""
        look = self.look
        high, size = max(7 * look.scale, 6), max(2.6 * look.scale, look.smallest * 0.92)
        words_wide = max(15 * look.scale, 13)
        said = balanced(self.said.pulls, words_wide, [size])
        x = look.margin + words_wide + 1
        room = look.wide - look.margin - x
        count = int(room // max(11.6 * look.scale, 10))
        if count < 2 or said.high > high:
            raise NoRoom
        top = bottom - high
        return [
            Box(x, top, room, high, marks.gates(count, room, high), "gates"),
            Box(look.margin, top + (high - said.high) / 2, words_wide, said.high, said.html(), "pulls", said.look),
        ]


_RULE = '<div style="height:100%;background:#000"></div>'
