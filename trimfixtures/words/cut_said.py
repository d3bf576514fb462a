"""A cut of a trim mask in words, for the page and for paper: what is taken in the hand first, then its numbers."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.words.counting import capital
from tooling.words.sizes import closely, given, times, unbroken, worked
from trimfixtures.models import DrillBushing, FeatureKind, Kept, Method
from trimfixtures.words import fit
from trimfixtures.words.cautions import comes_free
from trimfixtures.words.cuts import way
from trimfixtures.words.trim import Fact

_CUTTERS = {
    Method.SCRIBE: gettext_lazy("Scribe"),
    Method.KNIFE: gettext_lazy("Knife"),
    Method.DRILL: gettext_lazy("Drill"),
    Method.SAW: gettext_lazy("Saw"),
}
_GUIDES = {
    Method.GUIDE_BUSHING: gettext_lazy("Guide bushing"),
    Method.BEARING: gettext_lazy("Bearing"),
    Method.DRILL: gettext_lazy("Drill bushing"),
}


@dataclass(frozen=True, slots=True)
class CutSaid:
    """One cut. `what`: kind, method, rough or net. `stops`: why it is not to be made; `beside`: what to know before.

    of: the cut itself, for its drawing.
    """

    of: Any
    number: int
    name: str
    what: str
    facts: tuple[Fact, ...]
    stops: tuple[str, ...]
    beside: tuple[str, ...]
    note: str
    working: tuple[str, ...]


def cuts_said(cuts: list[Any], units: str) -> list[CutSaid]:
    """The cuts in order, from 1."""
    return [_said(number, cut, units) for number, cut in enumerate(cuts, 1)]


def _said(number: int, cut: Any, units: str) -> CutSaid:
    feature = cut.feature
    kind, method, finish = feature.get_kind_display(), feature.get_method_display(), feature.get_finish_display()
    # A cut that has no name is called by its kind, which then need not be said again.
    what = [str(one) for one in (kind if feature.name else "", method, finish) if one]
    return CutSaid(
        of=cut,
        number=number,
        name=feature.name or capital(str(kind)),
        what=capital(", ".join(what)),
        facts=tuple(replace(one, words=unbroken(one.words)) for one in _facts(cut, units) if one.words),
        stops=tuple(_stops(cut)),
        beside=tuple(_beside(cut)),
        note=feature.note,
        working=tuple(cut.working),
    )


def _facts(cut: Any, units: str) -> Iterator[Fact]:
    feature = cut.feature
    yield Fact(_turns(feature), _tool(feature, "cutter", units), strong=True)
    yield Fact(str(_GUIDES.get(feature.method, _("Guide"))), _guide(feature, units), strong=True)
    yield Fact(_("Pilot"), _pilot(feature, units), strong=True)
    yield Fact(_("Behind the part"), feature.backing)
    yield Fact(_("Kept"), _kept(feature), strong=True)
    yield Fact(_("Line") if feature.kind == FeatureKind.MARK else _("Cut edge"), _edge(cut, units))
    yield Fact(_("Size"), _size(feature, units))
    yield Fact(_("Middle at"), _place(feature, units))
    yield Fact(_("Tolerance"), fit.tolerance(feature, units))
    yield Fact(_("Trim mask opening"), _opening(cut, units))
    yield Fact(_("With this opening"), _as_is(cut, units))
    yield Fact(_("Worked out"), _worked_out(cut, units))
    yield Fact(_("Length of cut"), _length(cut, units))


def _turns(feature: Any) -> str:
    """What the cutter is called; after a pilot hole it may as well be a reamer, which nobody has to say."""
    if feature.method == Method.DRILL and feature.pilot_mm is not None:
        return _("Drill or reamer")
    return str(_CUTTERS.get(feature.method, _("Cutter")))


def _tool(feature: Any, column: str, units: str) -> str:
    """FB-20, Ø 20 mm, measures 19.96 mm: one of the library, or a size alone."""
    one = getattr(feature, column)
    if one is None:
        return _across(feature, given(feature, f"{column}_mm", units))
    nominal = given(one, "nominal_mm", units) or given(feature, f"{column}_mm", units)
    said = [one.code, _across(feature, nominal)]
    if one.measured_mm is not None and one.measured_mm != one.nominal_mm:
        said.append(_("measures %(size)s") % {"size": given(one, "measured_mm", units)})
    return ", ".join(filter(None, said))


def _across(feature: Any, size: str) -> str:
    """What turns has a diameter; a blade and a point are so wide."""
    return f"Ø {size}" if size and feature.method in (*Method.ROUTED, Method.DRILL) else size


def _guide(feature: Any, units: str) -> str:
    """What guides it: a bushing or a bearing, and for a drill whether its bushing is fixed or slips out."""
    said = [_tool(feature, "bushing", units)]
    if feature.method == Method.DRILL:
        said.insert(0, capital(str(feature.get_drill_bushing_display())))
    return ", ".join(filter(None, said))


def _pilot(feature: Any, units: str) -> str:
    """Never out of the bushing into nothing: the last size has a slip bushing of its own."""
    if feature.pilot_mm is None:
        return ""
    size = {"size": given(feature, "pilot_mm", units)}
    if feature.drill_bushing == DrillBushing.SLIP:
        return (
            _("Ø %(size)s first; then change the slip bushing for that of the last size, and drill up or ream") % size
        )
    return _("Ø %(size)s first, then drill up or ream") % size


def _kept(feature: Any) -> str:
    """A drilled hole and a mark leave no piece over."""
    if feature.method == Method.DRILL or feature.kind == FeatureKind.MARK:
        return ""
    return capital(str(Kept(feature.kept).label))


def _edge(cut: Any, units: str) -> str:
    """How far the edge of the kept piece is from what guides the cutter."""
    if cut.offset_mm is None:
        return ""
    if round(cut.offset_mm, 3) == 0:
        return _("flush with the guiding edge")
    if cut.offset_mm < 0:
        return _("%(size)s under the trim mask") % {"size": worked(-cut.offset_mm, units)}
    return _("%(size)s from the guiding edge") % {"size": worked(cut.offset_mm, units)}


def _size(feature: Any, units: str) -> str:
    """Nothing of a line: how long it is stands as the length of its cut."""
    length, width = given(feature, "length_mm", units), given(feature, "width_mm", units)
    if feature.kind in (FeatureKind.EDGE, FeatureKind.MARK) and not width:
        return ""
    if feature.kind == FeatureKind.HOLE and not (length and width):
        return f"Ø {width or length}" if width or length else ""
    box = times(length, width)
    corner = given(feature, "corner_mm", units)
    return ", ".join(filter(None, (box, _("corners R %(size)s") % {"size": corner} if corner else "")))


def _place(feature: Any, units: str) -> str:
    x, y = (given(feature, column, units).replace("-", "\N{MINUS SIGN}") for column in ("x_mm", "y_mm"))
    return ", ".join(filter(None, (f"x\N{NO-BREAK SPACE}{x}" if x else "", f"y\N{NO-BREAK SPACE}{y}" if y else "")))


def _opening(cut: Any, units: str) -> str:
    if cut.opening is None:
        return ""
    box = times(worked(cut.opening.length, units), worked(cut.opening.width, units))
    if cut.feature.kind == FeatureKind.HOLE:
        box = f"Ø {worked(cut.opening.width, units)}"
    if cut.opening_corner_mm is not None:
        box = _("%(box)s, corners R %(size)s") % {"box": box, "size": worked(cut.opening_corner_mm, units)}
    measured = given(cut.feature, "opening_mm", units)
    return _("%(box)s; its width measures %(size)s") % {"box": box, "size": measured} if measured else box


def _as_is(cut: Any, units: str) -> str:
    """What is cut with the opening as it measures."""
    if cut.as_is is None:
        return ""
    width = closely(cut.as_is.width, units)
    return f"Ø {width}" if cut.feature.kind == FeatureKind.HOLE else _("%(size)s wide") % {"size": width}


def _worked_out(cut: Any, units: str) -> str:
    """How far off it comes by the sizes that were measured; nothing where all are as they should be."""
    off = fit.off_by(cut, units)
    return _("from the sizes measured: %(off)s") % {"off": off} if off else ""


def _length(cut: Any, units: str) -> str:
    return way(cut.metres, units) if cut.metres else ""


def _stops(cut: Any) -> Iterator[str]:
    """Why it is not to be made as it stands."""
    if cut.refusal:
        yield str(cut.refusal)
    if cut.off:
        yield _("By the sizes that were measured this cut misses its tolerance: do not cut.")


def _beside(cut: Any) -> Iterator[str]:
    """What it may not be meant to do, what is not at hand, or worn, and what comes loose at its end."""
    if past := past_outline(cut):
        yield past
    for one in cut.gone:
        yield _("%(code)s is gone: get one.") % {"code": one.code}
    for one in cut.worn:
        yield _("%(code)s is worn: take a fresh one.") % {"code": one.code}
    if free := comes_free(cut.feature):
        yield free


def past_outline(cut: Any) -> str:
    """How far it reaches past the outline, which a slot that is open to the edge may be meant to do; "" else."""
    size = worked(cut.past_mm, cut.units)
    if size.startswith("0 "):
        return ""
    text = _("By its place and size it reaches %(size)s past the outline of the part: make sure that this is meant.")
    return text % {"size": size}
