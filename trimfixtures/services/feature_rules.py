"""What a cut cannot be, each with a sentence that says what to change: for the services, the pages and the sheet."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.units import METRIC, Read
from trimfixtures.models import CutterKind, FeatureKind, Kept, Method
from trimfixtures.services.mask_rules import outline_of
from trimfixtures.services.said_cut import Outlined, SaidCut, Sized

Wrong = Iterator[tuple[str, str]]  # columns, each with a sentence


def wrong_with(values: Mapping[str, Any], *, mask: Outlined | None = None, units: str = METRIC) -> dict[str, str]:
    """What a cut cannot say, by column; empty where it can.

    values: its columns by name, numbers in mm, cutter and bushing as rows of the library (or of a sheet). What is left
    out or empty is not asked for here: see `lacking`.
    """
    cut, wrong = SaidCut(values, mask, units), dict[str, str]()
    for rule in _RULES:
        for column, sentence in rule(cut):
            wrong.setdefault(column, sentence)
    return wrong


def lacking(values: Mapping[str, Any]) -> dict[str, str]:
    """The sizes without which nobody could cut it, by column: asked of whoever describes a cut on a page."""
    cut = SaidCut(values, None, METRIC)
    wanted = list(_OF_METHOD.get(values.get("method", ""), ())) + list(_OF_KIND.get(values.get("kind", ""), ()))
    if cut.is_one_of("method", Method.DRILL) and cut.size("cutter")[1] is not None:
        wanted = [name for name in wanted if name != "width_mm"]
    found = {}
    for name in wanted:
        if (cut.size(name)[1] if name in ("cutter", "bushing") else cut.said.get(name)) is None:
            found[name] = str(_ASKED[name])
    return found


def mixed(columns: Mapping[str, Any]) -> dict[str, str]:
    """The sizes of one cut that were typed in another unit than its first: one row has one unit."""
    read = {name: said for name, said in columns.items() if isinstance(said, Read)}
    first = next(iter(read.values()), None)
    text = _("Another size of this cut is typed in another unit (%(unit)s). Say all of one cut in one unit.")
    return {
        name: text % {"unit": first.unit.symbol}
        for name, said in read.items()
        if first is not None and said.unit.symbol != first.unit.symbol
    }


def _library(cut: SaidCut) -> Wrong:
    for name, kind, text in (
        ("cutter", CutterKind.CUTTER, _("%(code)s is a guide bushing: it cuts nothing. Choose a cutter.")),
        ("bushing", CutterKind.BUSHING, _("%(code)s is a cutter: it guides nothing. Choose a guide bushing.")),
    ):
        one: Sized | None = cut.said.get(name)
        if one is not None and one.kind not in ("", kind):
            yield name, text % {"code": one.code}


def _numbers(cut: SaidCut) -> Wrong:
    for name in ("cutter_mm", "bushing_mm", "length_mm", "width_mm", "opening_mm", "pilot_mm"):
        number = cut.said.get(name)
        if number is not None and number <= 0:
            yield name, _("%(number)s: a size is above zero.") % {"number": cut.mm(number)}
    for name, text in (
        ("tolerance_mm", _("%(number)s: a tolerance is not below zero. It counts to either side.")),
        ("corner_mm", _("%(number)s: a radius is not below zero.")),
    ):
        number = cut.said.get(name)
        if number is not None and number < 0:
            yield name, text % {"number": cut.mm(number)}


def _drilled(cut: SaidCut) -> Wrong:
    if not cut.is_one_of("method", Method.DRILL):
        for name in ("drill_bushing", "pilot_mm"):
            if cut.said.get(name):
                yield name, _("Only what is drilled has this. Leave it empty, or choose the drill.")
        return
    if cut.is_one_of("kind", FeatureKind.EDGE):
        yield "method", _("A drill cuts no edge. Choose another way of cutting it, or say that it is a hole.")
    pilot, hole = cut.number("pilot_mm"), cut.number("width_mm") or cut.size("cutter")[1]
    if pilot is not None and hole is not None and pilot >= hole:
        text = _("The pilot hole (%(pilot)s) is not smaller than the hole (%(hole)s).")
        yield "pilot_mm", text % {"pilot": cut.mm(pilot), "hole": cut.mm(hole)}
    # A larger drill is said by the rule of all openings.
    drill, width = cut.size("cutter")[1], cut.number("width_mm")
    if drill is None or width is None or not cut.is_one_of("kind", FeatureKind.HOLE) or cut.is_rough:
        return
    if drill < width - (cut.number("tolerance_mm") or 0):
        text = _(
            "A drill of %(drill)s leaves a hole of %(drill)s, not of %(hole)s. Say with what it is drilled or reamed "
            "last, or as how large it is good."
        )
        yield "width_mm", text % {"drill": cut.mm(drill), "hole": cut.mm(width)}


def _guided(cut: SaidCut) -> Wrong:
    # The bearing of a bearing cutter may have any size beside it: there is nothing that the cutter has to go through.
    (column, cutter), (_column, bushing) = cut.size("cutter"), cut.size("bushing")
    if not cut.is_one_of("method", Method.GUIDE_BUSHING) or cutter is None or bushing is None:
        return
    if cutter >= bushing:
        text = _(
            "The cutter (%(cutter)s) is not smaller than the guide bushing that it goes through (%(bushing)s). "
            "Take a smaller cutter, or a larger guide bushing."
        )
        yield column, text % {"cutter": cut.mm(cutter), "bushing": cut.mm(bushing)}


def _room(cut: SaidCut) -> Wrong:
    """An opening has room for what cuts it."""
    is_cut = cut.said.get("method") in {*Method.ROUTED, Method.DRILL} and not cut.is_one_of("kept", Kept.FAR_SIDE)
    cutter = cut.size("cutter")[1]
    if not is_cut or cutter is None or cut.said.get("kind") not in FeatureKind.INSIDE:
        return
    for name in ("width_mm", "length_mm"):
        room = cut.number(name)
        if room is not None and cutter > room + (cut.number("tolerance_mm") or 0):
            text = _("A cutter of %(cutter)s is larger than what it is to cut (%(size)s).")
            yield name, text % {"cutter": cut.mm(cutter), "size": cut.mm(room)}


def _corner(cut: SaidCut) -> Wrong:
    corner, cutter = cut.said.get("corner_mm"), cut.size("cutter")[1]
    if corner is None or corner < 0:
        return
    # Opening and cut are apart by the same offset all round, so that what the bushing cannot follow in the opening is
    # in the cut what is sharper than the cutter.
    if cut.is_guided and cutter is not None and corner < cutter / 2:
        text = _(
            "A corner of radius %(corner)s is sharper than what is guided along the trim mask can follow: with a "
            "cutter of %(cutter)s it is at least %(least)s."
        )
        said = {"corner": cut.mm(corner), "cutter": cut.mm(cutter), "least": cut.mm(cutter / 2)}
        yield "corner_mm", text % said
    sides = [side for side in (cut.number("length_mm"), cut.number("width_mm")) if side is not None]
    if cut.said.get("kind") in FeatureKind.INSIDE and sides and corner > min(sides) / 2:
        text = _("A corner of radius %(corner)s does not go into a side of %(side)s.")
        yield "corner_mm", text % {"corner": cut.mm(corner), "side": cut.mm(min(sides))}


def _along_outline(cut: SaidCut) -> Wrong:
    """The edge, all round: with a length of its own it is a piece of the outline, and nobody knows which."""
    column, cutter = cut.size("cutter")
    outline = outline_of(cut.mask.outline) if cut.mask is not None else None
    whole = cut.is_one_of("kind", FeatureKind.EDGE) and cut.said.get("length_mm") is None
    if outline is None or cutter is None or not whole or not cut.is_guided:
        return
    for corner in outline.inside_corners(float(cutter) / 2):
        text = _(
            "The outline has an inside corner at %(x)s, %(y)s that is sharper than what is guided along the trim mask "
            "can follow: with a cutter of %(cutter)s its radius is at least %(least)s. Round the outline there, take a "
            "smaller cutter, or say that the cut is rough."
        )
        at = {name: cut.mm(where) for name, where in (("x", corner.x), ("y", corner.y))}
        yield column, text % {**at, "cutter": cut.mm(cutter), "least": cut.mm(cutter / 2)}


def _place(cut: SaidCut) -> Wrong:
    x, y = cut.said.get("x_mm"), cut.said.get("y_mm")
    if (x is None) != (y is None):
        missing = "x_mm" if x is None else "y_mm"
        yield missing, _("A place is said by x and y: fill in both, or neither.")
        return
    outline = outline_of(cut.mask.outline) if cut.mask is not None else None
    if x is not None and y is not None and outline is not None and not outline.contains(float(x), float(y)):
        yield "x_mm", _("%(x)s, %(y)s is off the outline of the trim mask.") % {"x": cut.mm(x), "y": cut.mm(y)}


_RULES: tuple[Callable[[SaidCut], Wrong], ...] = (
    _library, _numbers, _drilled, _guided, _room, _corner, _along_outline, _place,
)  # fmt: skip
_OF_METHOD = {
    Method.GUIDE_BUSHING: ("cutter", "bushing"),
    Method.BEARING: ("cutter",),
    Method.DRILL: ("cutter",),
}
_OF_KIND = {
    FeatureKind.CUT_OUT: ("length_mm", "width_mm"),
    FeatureKind.SLOT: ("length_mm", "width_mm"),
    FeatureKind.HOLE: ("width_mm",),
}
_ASKED = {
    "cutter": gettext_lazy("Say which cutter it is, or how large."),
    "bushing": gettext_lazy("Say which guide bushing it is, or how large."),
    "length_mm": gettext_lazy("Say how long it is in the part."),
    "width_mm": gettext_lazy("Say how wide it is in the part; of a hole its diameter."),
}
