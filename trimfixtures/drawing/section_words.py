"""What stands in words on the section of a cut, and what it shows for whoever does not see it."""

from collections.abc import Iterator
from math import inf
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.drawing.ink import size
from trimfixtures.calc.section import DRILL, GUIDED, Section, Span
from trimfixtures.drawing.section_tools import MASK, PART

_GUIDE = {"guide_bushing": gettext_lazy("guide bushing %(size)s"), "bearing": gettext_lazy("bearing %(size)s")}
_TOOL = {
    "guide_bushing": gettext_lazy("cutter %(size)s"),
    "bearing": gettext_lazy("cutter %(size)s"),
    "saw": gettext_lazy("blade %(size)s"),
    "knife": gettext_lazy("blade %(size)s"),
}


def title(cut: Any) -> str:
    """Hatch opening in section: router with a guide bushing."""
    feature = cut.feature
    return _("%(name)s in section: %(method)s") % {"name": feature, "method": feature.get_method_display()}


def names(where: Section) -> list[tuple[str, tuple[Span, ...], tuple[float, float]]]:
    """The words, each with the pieces it may stand in and their rows."""
    off = _("cut off") if where.through else _("off later")
    return [(_("trim mask"), where.trim_mask, MASK), (_("kept"), where.kept, PART), (off, where.off, PART)]


def dimensions_above(where: Section, units: str) -> Iterator[tuple[str, Span]]:
    """What guides, or the drill."""
    if where.method == DRILL:
        yield _("drill %(size)s") % {"size": size(where.tool.width, units)}, where.tool
    elif where.guide is not None:
        yield str(_GUIDE[where.method]) % {"size": size(where.guide.width, units)}, where.guide


def dimensions_below(cut: Any, where: Section, units: str) -> Iterator[tuple[str, Span]]:
    """What is cut, from the guiding edge on, and all across an opening."""
    if where.method == DRILL:
        if where.guide is not None:
            yield _("drill bushing %(size)s outside") % {"size": size(where.guide.width, units)}, where.guide
        if where.pilot is not None:
            yield _("pilot hole %(size)s first") % {"size": size(where.pilot.width, units)}, where.pilot
        return
    if where.tool.width and where.method in _TOOL:
        yield str(_TOOL[where.method]) % {"size": size(where.tool.width, units)}, where.tool
    if where.kept and where.kept[0] != Span(-inf, inf):
        yield _from_edge(where, units), Span(*sorted((0.0, where.edge)))
    if len(where.trim_mask) > 1:
        far = where.trim_mask[1].left
        yield _opening(cut.feature) % {"size": size(far, units)}, Span(0.0, far)


def _opening(feature: Any) -> str:
    """Which opening it is, where one was measured: that which is drawn is the wanted one, if a size is wanted."""
    if feature.opening_mm is None:
        return _("opening of the trim mask %(size)s")
    if feature.width_mm or feature.length_mm:
        return _("wanted opening of the trim mask %(size)s")
    return _("measured opening of the trim mask %(size)s")


def _from_edge(where: Section, units: str) -> str:
    if abs(where.edge) < 1e-6:
        return _("cut edge flush with the guiding edge")
    if where.edge < 0:
        return _("cut edge %(size)s under the trim mask") % {"size": size(-where.edge, units)}
    return _("guiding edge to cut edge %(size)s") % {"size": size(where.edge, units)}


def told(cut: Any, where: Section, units: str) -> str:
    """The same in sentences."""
    said = [words for words, _span in (*dimensions_above(where, units), *dimensions_below(cut, where, units))]
    kept = cut.feature.kept
    if where.method == DRILL:
        which = _("A hole: the part is kept on all sides.")
    elif where.kept and where.kept[0] == Span(-inf, inf):
        which = _("A mark: nothing is cut off.")
    elif kept == "far_side":
        which = _("Kept: the piece beyond the cutter.")
    else:
        which = _("Kept: the piece under the trim mask.")
        if len(where.trim_mask) > 1 and not where.off:
            which += " " + _("All between is cut away: nothing falls out.")
    across = _("To scale across; heights are not.") if where.method in (*GUIDED, DRILL) else _("Not to scale.")
    return " ".join([*(f"{words}." for words in said), which, across])
