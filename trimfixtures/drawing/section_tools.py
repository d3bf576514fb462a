"""What runs along a trim mask, in section: bushing, bearing and drill bushing, and what cuts."""

from django.utils.translation import gettext as _

from tooling.drawing import ink
from trimfixtures.calc.section import DRILL, Span

# Where things stand from top to bottom: dimensions of the guide, trim mask, part, below all
TOP = 24.0
MASK, PART = (46.0, 78.0), (83.0, 103.0)
FOOT = 116.0
_SOLE = 38.0


def guide(method: str, run: Span | None, cut: Span, drill_bushing: str = "") -> str:
    """What touches the trim mask; nothing where the tool itself runs along it."""
    if method == "guide_bushing" and run is not None:
        return _bushing(run, cut)
    if method == "bearing" and run is not None:
        return _bearing(run)
    if method == DRILL:
        return (
            _drill_bushing(run or Span(cut.left - 5, cut.right + 5), cut, drill_bushing) if drill_bushing or run else ""
        )
    return ""


def tool(method: str, cut: Span, pilot: Span | None, *, through: bool) -> str:
    """What cuts, as it stands in the part."""
    if method == DRILL:
        return _drill(cut, pilot)
    if method == "scribe":
        return _scribe(cut.left)
    if method == "knife":
        return _knife(cut)
    if method == "saw":
        return _saw(cut)
    return _cutter(method, cut, FOOT if through else PART[0] + 6)


def centre_line(x: float, start: float) -> str:
    """The axis, as on a drawing: long and short strokes."""
    return ink.line(f"M{x:.1f} {start:.1f}V{FOOT + 5:.1f}", wide=1, chalk=True, dash="9 4 1.5 4")


def backing(wide: float, what: str) -> str:
    """A board under the part, so that the hole does not break out; its words where they fit, else that it is one."""
    left, right, foot = 7.0, wide - 4, FOOT + 8
    board = ink.hatched(ink.block(left, PART[1] + 2, right, foot), 14, -1)
    words = next((one for one in (what, _("backing")) if ink.long(one, ink.SMALL) < (right - left) / 2 - 30), "")
    return board + ink.word(right - 8, foot - 5.5, words, anchor="end", of=ink.SMALL, boxed=True)


def _bushing(run: Span, cut: Span) -> str:
    """The sole that lies on the trim mask and the collar that hangs from it, cut open."""
    wall = min(max(2.5, (cut.left - run.left) * 0.4), 9.0)
    foot = MASK[1] - 6
    sole = ink.shape(ink.block(run.left - 30, _SOLE, run.right + 30, MASK[0]))
    flange = ink.shape(ink.block(run.left - 9, MASK[0] - 4, run.right + 9, MASK[0]), solid=True, wide=1)
    walls = (
        ink.block(run.left, MASK[0] - 4, run.left + wall, foot),
        ink.block(run.right - wall, MASK[0] - 4, run.right, foot),
    )
    bore = ink.shape(ink.block(run.left + wall, _SOLE, run.right - wall, foot), wide=0)
    return sole + flange + bore + "".join(ink.shape(one, solid=True, wide=1) for one in walls)


def _bearing(run: Span) -> str:
    """A ring with its two balls, crossed as bearings are drawn."""
    top, foot = MASK[0] + 6, MASK[1] - 6
    ring = min(run.width * 0.3, 20.0)
    drawn = ink.shape(ink.block(run.left, top, run.right, foot))
    for left, right in ((run.left, run.left + ring), (run.right - ring, run.right)):
        drawn += ink.line(f"M{left:.1f} {top}L{right:.1f} {foot}M{right:.1f} {top}L{left:.1f} {foot}", wide=1.4)
    return drawn + ink.line(f"M{run.left + ring:.1f} {top}V{foot}M{run.right - ring:.1f} {top}V{foot}", wide=1.2)


def _drill_bushing(run: Span, cut: Span, how: str) -> str:
    """A fixed one ends with the trim mask; a slip one has a head, to be taken out between two drills."""
    top = MASK[0] - (8 if how == "slip" else 0)
    wall = max(cut.left - run.left, 1.0)
    head = 7.0 if how == "slip" else 0.0
    drawn = ""
    for left, right, out in ((run.left, run.left + wall, -head), (run.right - wall, run.right, head)):
        drawn += ink.shape(ink.block(left, top, right, MASK[1]), solid=True, wide=1)
        if head:
            drawn += ink.shape(
                ink.block(min(left, left + out), top, max(right, right + out), MASK[0]), solid=True, wide=1
            )
    return drawn


def _cutter(method: str, cut: Span, foot: float) -> str:
    """A shank, and below the trim mask what cuts, with the turn of its edges."""
    shank = cut.width * (0.5 if method == "bearing" else 1)
    middle = (cut.left + cut.right) / 2
    top = PART[0] - 4 if method == "bearing" else MASK[1] - 10
    drawn = ink.shape(ink.block(middle - shank / 2, TOP + 6, middle + shank / 2, top), wide=1.5)
    if method == "bearing":  # its ring lies before the shank
        drawn = ink.shape(ink.block(middle - shank / 2, TOP + 6, middle + shank / 2, MASK[0] + 6), wide=1.5)
    drawn += ink.shape(ink.block(cut.left, top, cut.right, foot))
    return drawn + _turn(cut, top, foot)


def _turn(cut: Span, top: float, foot: float) -> str:
    """The edges of a cutter or a drill."""
    step, turns = 10.0, ""
    y = top + step
    while y <= foot:
        turns += f"M{cut.left + 1:.1f} {y:.1f}L{cut.right - 1:.1f} {y - step:.1f}"
        y += step
    return ink.line(turns, wide=1.1)


def _drill(cut: Span, pilot: Span | None) -> str:
    middle, point = (cut.left + cut.right) / 2, min(cut.width * 0.3, 14.0)
    foot = FOOT + 6 - point
    body = [(cut.left, TOP + 4), (cut.right, TOP + 4), (cut.right, foot), (middle, foot + point), (cut.left, foot)]
    drawn = ink.shape(body) + _turn(cut, MASK[0] - 4, foot)
    if pilot is not None:
        ways = "".join(f"M{x:.1f} {PART[0]}V{PART[1]}" for x in pilot)
        drawn += ink.line(ways, wide=2.2, dash=".1 4.5")
    return drawn


def _scribe(x: float) -> str:
    """A point that leans on the edge, and the scratch it leaves."""
    tip = PART[0]
    rod = [(x + 0.5, tip), (x + 2, MASK[0] - 2), (x + 17, TOP - 16), (x + 26, TOP - 14), (x + 12, MASK[0])]
    return ink.shape(rod) + ink.line(f"M{x - 3:.1f} {tip}L{x:.1f} {tip + 5}L{x + 3:.1f} {tip}", wide=2.2)


def _knife(cut: Span) -> str:
    """A blade with its flat along the edge."""
    back = max(cut.right, cut.left + 9)
    blade = [(cut.left, TOP - 14), (back, TOP - 14), (back, PART[0]), (cut.left, FOOT)]
    return ink.shape(blade) + ink.line(f"M{cut.left:.1f} {FOOT}L{back:.1f} {PART[0] - 12}", wide=1)


def _saw(cut: Span) -> str:
    """A blade along the edge, its teeth below."""
    right = max(cut.right, cut.left + 3)
    teeth = "".join(f"M{right:.1f} {y}l4 3l-4 3" for y in range(int(PART[0]) - 14, int(FOOT) - 4, 7))
    return ink.shape(ink.block(cut.left, TOP - 14, right, FOOT)) + ink.line(teeth, wide=1.3)
