"""A cut in section, to scale across: trim mask, guide, cutter, the piece that is kept and what is cut off.

Hatched = trim mask; filled = bushing; weave = the part that is kept; dotted = cut off. Heights are no sizes.
"""

from math import inf
from typing import Any

from django.utils.safestring import SafeString

from tooling.drawing import ink
from trimfixtures.calc.refusal import Refusal
from trimfixtures.calc.section import DRILL, GUIDED, Section, Span
from trimfixtures.calc.section import section as stand
from trimfixtures.drawing.section_tools import FOOT, MASK, PART, TOP, backing, centre_line, guide, tool
from trimfixtures.drawing.section_words import dimensions_above, dimensions_below, names, title, told

WIDE = 340.0
RIM = 3.0
# Left of the guiding edge
_LEFT = 98.0
# The most that guide and cut take, and the most that a millimetre takes
_RUN, _MOST = 150.0, 9.0
# An opening that is wider, in guides, is drawn at one of its sides only
_WHOLE = 4.0
_TEAR = (0.0, -4.0, 2.0, -3.0, 0.0)
_ROW = 34.0


def section(cut: Any, units: str) -> SafeString:
    """The picture of one cut (a row of `selectors.cuts`); empty where sizes are missing, and `missing` says why."""
    try:
        where = placed(cut)
    except Refusal:
        return SafeString("")
    return _Drawn(cut, where, units).svg()


def missing(cut: Any) -> Refusal | None:
    """Why there is no picture of a cut; None where there is one."""
    try:
        placed(cut)
    except Refusal as refusal:
        return refusal
    return None


def millimetre(cut: Any, units: str) -> float | None:
    """How much of the picture a millimetre across takes; None where there is no picture, or none to scale."""
    try:
        where = placed(cut)
    except Refusal:
        return None
    return _Drawn(cut, where, units).scale if where.method in (*GUIDED, DRILL) else None


def placed(cut: Any) -> Section:
    """Where everything stands across a cut, in mm from the guiding edge."""
    feature = cut.feature
    kept = "both" if feature.kind == "mark" else feature.kept
    cutter, run = _plain(cut.cutter_mm), _plain(cut.bushing_mm)
    if feature.method == DRILL:
        return stand(DRILL, cutter=cutter or _plain(feature.width_mm), guide=run, pilot=_plain(feature.pilot_mm))
    at_edge = stand(feature.method, cutter=cutter, guide=run, kept=kept)
    if not feature.is_inside:
        return at_edge
    across = _plain(feature.width_mm) or _plain(feature.length_mm)
    opening = across + 2 * at_edge.edge if across else _plain(feature.opening_mm)
    return stand(feature.method, cutter=cutter, guide=run, kept=kept, opening=opening)


def _plain(number: Any) -> float | None:
    return None if number is None else float(number)


class _Drawn:
    """One section being drawn from top to bottom: `y` is how far it has come, `ink` what is drawn."""

    def __init__(self, cut: Any, where: Section, units: str) -> None:
        self.cut, self.where, self.units = cut, where, units
        self.ink: list[str] = []
        self.y = FOOT + 8
        run = max(where.tool.right, where.guide.right if where.guide else 0.0)
        far = where.trim_mask[-1].left if len(where.trim_mask) > 1 else inf
        # Only one side of a wide opening is drawn: the other would leave no room for what matters.
        self.one_side = far != inf and far > _WHOLE * run
        across = run if self.one_side or far == inf else far
        room = _RUN / 2 if where.method == DRILL else _RUN
        self.scale = min(_MOST, room / across) if across else _MOST
        self.zero = _LEFT - min(0.0, where.edge, where.guide.left if where.guide else 0.0) * self.scale

    def x(self, mm: float) -> float:
        """Where a place across the cut stands; beyond the rim it stands on it."""
        return min(max(RIM, self.zero + mm * self.scale), WIDE - RIM)

    def spot(self, span: Span) -> Span:
        """The same of a stretch."""
        return Span(self.x(span.left), self.x(span.right))

    def svg(self) -> SafeString:
        """The whole picture."""
        self._pieces()
        self._tools()
        self._names()
        self._dimensions()
        return ink.picture(
            "section", title(self.cut), told(self.cut, self.where, self.units), (WIDE, self.y + 2), self.ink
        )

    def _pieces(self) -> None:
        for span in self._seen(self.where.off):
            self.ink.append(ink.group("p-off", ink.shape(self._block(span, PART), dash=".1 4.5", wide=2.4)))
        for span in self._seen(self.where.kept):
            self.ink.append(ink.group("p-kept", ink.woven(self._block(span, PART), 7)))
        for span in self._seen(self.where.trim_mask):
            self.ink.append(ink.group("p-over", ink.hatched(self._block(span, MASK), 9)))
        if self.where.method == DRILL and self.cut.feature.backing:
            self.ink.append(backing(WIDE - RIM, self.cut.feature.backing))

    def _seen(self, spans: tuple[Span, ...]) -> tuple[Span, ...]:
        """Without what lies beyond the rim."""
        return tuple(one for one in spans if self.x(one.right) - self.x(one.left) > 1)

    def _block(self, span: Span, rows: tuple[float, float]) -> list[ink.Point]:
        """The outline of a piece; it is torn off where it goes on."""
        top, foot = rows
        left, right = self.spot(span)
        tear = [(by, top + (foot - top) * step / 4) for step, by in enumerate(_TEAR)]
        begins = [(left + 4 + by, y) for by, y in reversed(tear)] if left == RIM else [(left, foot), (left, top)]
        ends = [(right + by, y) for by, y in tear] if right == WIDE - RIM else [(right, top), (right, foot)]
        return [*begins, *ends]

    def _tools(self) -> None:
        where = self.where
        cut = where.tool
        if where.method != DRILL and len(where.trim_mask) > 1 and not self.one_side:
            far = where.trim_mask[1].left
            left, right = self.spot(Span(far - cut.right, far - cut.left))
            back = f"M{left:.1f} {PART[0] - 3}V{FOOT}M{right:.1f} {PART[0] - 3}V{FOOT}"
            self.ink.append(ink.group("way-back", ink.line(back, dash="3 4", soft=True)))
        run = self.spot(where.guide) if where.guide else None
        beside = guide(where.method, run, self.spot(cut), self.cut.feature.drill_bushing)
        self.ink.append(ink.group("p-guide", beside))
        pilot = self.spot(where.pilot) if where.pilot else None
        self.ink.append(ink.group("p-tool", tool(where.method, self.spot(cut), pilot, through=where.through)))
        if where.axis is not None:
            self.ink.append(centre_line(self.x(where.axis), start=TOP + 6 if where.method in GUIDED else TOP + 4))

    def _names(self) -> None:
        """Each word in its pieces; the first has it below where there is no room."""
        below = False
        for words, spans, rows in names(self.where):
            for number, span in enumerate(self._seen(spans)):
                left, right = self.spot(span)
                if right - left >= ink.long(words, bold=True) + 6:
                    y = sum(rows) / 2 + 4.5
                    self.ink.append(ink.word((left + right) / 2, y, words, anchor="middle", bold=True, boxed=True))
                    continue
                if number:
                    continue
                middle = ink.within((left + right) / 2, words, WIDE, bold=True)
                self.ink.append(ink.word(middle, FOOT + 13, words, anchor="middle", bold=True))
                below = True
        self.y += 14 if below else 0

    def _dimensions(self) -> None:
        """One row each; the thin lines from where it is measured lie under all words."""
        rows = [(words, span, TOP, True) for words, span in dimensions_above(self.where, self.units)]
        for words, span in dimensions_below(self.cut, self.where, self.units):
            rows.append((words, span, self.y + 12, False))
            self.y += _ROW
        for _words, span, y, above in rows:
            begin, end = (y + 4, MASK[0] - 2) if above else (PART[1] + 3, y + 4)
            ends = "".join(f"M{x:.1f} {begin:.1f}V{end:.1f}" for x in self.spot(span) if x < WIDE - RIM)
            self.ink.append(ink.line(ends, wide=0.8, soft=True))
        for words, span, y, above in rows:
            spot = self.spot(span)
            goes_on = spot.right == WIDE - RIM
            self.ink.append(ink.dimension(spot, y, words, WIDE, above=above, goes_on=goes_on))
