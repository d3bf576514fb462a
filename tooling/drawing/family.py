"""The line of a tool as sections: plug, mold and part as one lies on the other, and nothing but sections.

Drawn through is done, dotted still to come; the blue line is what is laid up. Looks are attributes: see `ink`.
"""

from collections.abc import Iterator, Sequence
from itertools import islice, pairwise
from typing import Any

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.drawing.family_shapes import (
    CODE,
    HIGH,
    HINTED,
    MIDDLE,
    NARROW,
    SOFT,
    WIDE,
    below,
    board,
    codes,
    cup_points,
    cup_shape,
    dome,
    filling,
    hints,
    hollow,
    left_piece,
    named,
    solid,
    template,
    way,
)
from tooling.drawing.ink import Point, group, hatched, line, long, picture, word
from tooling.drawing.lines import curve

# As many of its molds are drawn below a plug.
MOST = 6

Figure = tuple[str, str]  # what is drawn, and what it shows in words
# What took the place of what is drawn in half a section, and lower.
_REPLACED, LOW = "replaced", 96.0


def family_line(family: Any, *, small: bool = False, across: int = 2) -> SafeString:
    """The picture of a `Family`: what its tool comes from, itself with what comes out of it, what was made from it.

    small: the first two sections alone. across: as many stand beside each other.
    """
    figures = list(islice(_figures(family, MOST), 2 if small else None))
    drawn, top = "", 0.0
    for row in (figures[first : first + across] for first in range(0, len(figures), across)):
        high = max(_high(one) for one in row)
        for place, one in enumerate(row):
            down = top + (high - _high(one)) / 2
            drawn += f'<g transform="translate({WIDE * place:.0f} {down:.0f})">{one[0]}</g>'
        top += high
    title = _("Sections: the line of %(code)s") % {"code": family.tool.code}
    box = (WIDE * min(across, len(figures)), top)
    return picture("family-line", title, " ".join(told for _drawn, told in figures), box, [drawn])


def _high(figure: Figure) -> float:
    return LOW if figure[0].startswith(f'<g class="{_REPLACED}"') else HIGH


def _figures(family: Any, most: int) -> Iterator[Figure]:
    tool = family.tool
    for parent, child in pairwise(family.line):
        yield _laid(parent, child, family.made(parent))
    made = family.made(tool)
    if tool.kind == "plug":
        yield _laid(tool, made[0], made) if made else _bare(tool)
        for one in made[:most]:
            yield from _of_surface(family, one)
    elif tool.kind == "trim_mask":
        for one in family.molds_of(tool)[:most] or [None]:
            yield _cup(one, (), [tool])
    else:
        yield from _of_surface(family, tool)
        for one in made[:most]:
            yield _laid(tool, one, made)
    for before, after in pairwise([*reversed(family.before(tool)), tool, *family.after(tool)[:1]]):
        yield _replaced(before, after)


def _of_surface(family: Any, tool: Any) -> Iterator[Figure]:
    """A mold or a mold insert with what comes out of it; halves that close on one part close in the picture."""
    if tool.kind == "insert":
        yield _insert(tool, family.molds_of(tool))
    elif tool.kind == "mold":
        half = next((one for one in family.halves(tool) if one.kind == "mold"), None)
        yield _closed(tool, half) if half is not None else _cup(tool, family.inserts(tool), family.trim_masks(tool))
    else:
        yield _laid(tool, family.made(tool)[0], family.made(tool)) if family.made(tool) else _bare(tool)


def _laid(parent: Any, child: Any, made: Sequence[Any]) -> Figure:
    """What was made from a tool, still on it; others off the same one as lines further out."""
    others = len(made) - 1
    told = _("%(child)s as it was laid on %(parent)s.") % {"child": child.code, "parent": parent.code}
    if others > 0:
        more = ngettext("%(n)d more came off it", "%(n)d more came off it", others) % {"n": others}
        told = f"{told} {more}."
    if parent.kind == "mold":
        drawn = cup_shape() + filling(child)
        drawn += (
            named(child.code, 20) + line(f"M{MIDDLE} {44 if others > 0 else 26}V74", wide=1.2) + named(parent.code, 190)
        )
        return group("laid", drawn + (below(more, 38) if others > 0 else "")), told
    base = 166.0
    further = "".join(line(way(dome(base - 12, out)), wide=1, soft=True) for out in hints(others))
    shell = [
        (6.0, base - 11),
        *dome(base - 11, 0),
        (200.0, base - 11),
        (200.0, base - 1),
        *hollow(base),
        (6.0, base - 1),
    ]
    drawn = further + hatched(solid(base), 13) + hatched(shell, 8, -1) + board(base)
    drawn += named(parent.code, base - 26, boxed=True) + named(child.code, 20)
    if others > 0:
        drawn += below(more, 38)
    top = 78 - 7 * min(others, HINTED)
    return group("laid", drawn + line(f"M{MIDDLE} {44 if others > 0 else 26}V{top:g}", wide=1.2)), told


def _bare(plug: Any) -> Figure:
    """A plug that nothing was made from: what could be laid on it is dotted."""
    base = 166.0
    drawn = hatched(solid(base), 13) + board(base) + line(way(dome(base - 11, 0)), dash="1 6", wide=2.4)
    drawn += named(plug.code, base - 26, boxed=True) + below(_("nothing made from it yet"), 50)
    return group("bare", drawn), _("%(code)s, from which nothing has been made yet.") % {"code": plug.code}


def _cup(mold: Any, inserts: Sequence[Any], masks: Sequence[Any]) -> Figure:
    """A mold with a part in it, mold inserts at its sides, the trim mask on the part."""
    drawn, told = cup_shape(), []
    pulls = mold.summary.total_pulls if mold is not None else 0
    laid = way([(20.0, 74.0), *curve((42, 74), (54, 160), (152, 160), (164, 74)), (186.0, 74.0)])
    drawn += line(laid, chalk=True, wide=4) if pulls else line(laid, chalk=True, wide=3, dash="1 7")
    pieces = [left_piece(), [(WIDE - x, y) for x, y in left_piece()]][: len(inserts)]
    drawn += "".join(hatched(piece, 6) for piece in pieces)
    if masks:
        drawn += template() + named(codes(masks), 20)
        told.append(_("Trim mask on the part: %(codes)s.") % {"codes": ", ".join(one.code for one in masks)})
    beside = _("retired") if mold is not None and mold.summary.retired else ""
    if inserts:
        held = _("with %(codes)s") % {"codes": codes(inserts, of=SOFT, room=NARROW - 40)}
        beside = ", ".join(filter(None, (beside, held)))
        told.append(_("Mold inserts in it: %(codes)s.") % {"codes": ", ".join(one.code for one in inserts)})
    drawn += below(_pulled(pulls), 124) + (below(beside, 208) if beside else "")
    if mold is not None:
        drawn += named(mold.code, 190)
        told.insert(0, _("%(code)s with a part in it: %(pulled)s.") % {"code": mold.code, "pulled": _pulled(pulls)})
    return group("cup", drawn), " ".join(told)


def _closed(mold: Any, half: Any) -> Figure:
    """Two halves that close on one part."""
    lower = cup_points(98, 26)
    upper = [(x, 2 * 92 - y) for x, y in lower]
    part = curve((46, 92), (54, 156), (152, 156), (160, 92))
    drawn = hatched(lower, 9, -1) + hatched(upper, 9, 1)
    whole = [*part, *((x, 184 - y) for x, y in reversed(part))]
    pulls = mold.summary.total_pulls
    drawn += line(way(whole) + "Z", chalk=True, wide=3.4, dash="" if pulls else "1 7")
    drawn += named(half.code, 16) + below(_pulled(pulls), 97) + named(mold.code, 190)
    said = {"code": mold.code, "half": half.code, "pulled": _pulled(pulls)}
    return group("closed", drawn), _("%(code)s closed with its other half %(half)s: %(pulled)s.") % said


def _insert(tool: Any, molds: Sequence[Any]) -> Figure:
    """A loose piece over the seat in its molds."""
    piece: list[Point] = [(63, 42), (143, 42), (143, 72), (127, 72), (119, 112), (87, 112), (79, 72), (63, 72)]
    drawn = hatched(piece, 9) + line("M8 104H66L86 156H120L140 104H198", wide=1.8)
    drawn += line("M52 72L72 108M154 72L134 108", chalk=True, dash="6 4") + named(tool.code, 22)
    told = _("%(code)s over its seat.") % {"code": tool.code}
    if molds:
        drawn += named(codes(molds), 188)
        told = _("%(code)s over its seat in %(molds)s.") % {
            "code": tool.code,
            "molds": ", ".join(one.code for one in molds),
        }
    return group("insert", drawn), told


def _replaced(before: Any, after: Any) -> Figure:
    """What took the place of what: an empty outline, an arrow, the tool that stands there now."""
    small = [(x * 0.44, y * 0.44) for x, y in (solid(166.0) if after.kind == "plug" else cup_points(74, 60))]
    gone, here = ([(x + left, y - 12) for x, y in small] for left in (4, 112))
    drawn = line(way(gone) + "Z", wide=1, soft=True) + hatched(here, 7, -1)
    drawn += line("M97 40H109M104 35L110 40L104 45", wide=1.8)
    for code, middle, bold in ((before.code, 49, False), (after.code, 157, True)):
        of = min(CODE, CODE * (WIDE / 2 - 8) / max(long(code, CODE, bold=bold), 1))
        drawn += word(middle, 84, code, anchor="middle", of=round(of, 1), bold=bold)
    said = {"after": after.code, "before": before.code}
    return group(_REPLACED, drawn), _("%(after)s took the place of %(before)s.") % said


def _pulled(pulls: int) -> str:
    return ngettext("%(n)d pulled", "%(n)d pulled", pulls) % {"n": pulls} if pulls else _("none yet")
