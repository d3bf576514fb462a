"""Cutters and guide bushings of trim masks that are gone or worn, and cuts that they put off their line."""

from collections.abc import Iterable, Iterator

from django.urls import reverse

from tooling.models import Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from trimfixtures.models import Cutter, CutterKind
from trimfixtures.selectors.cuts import Cut
from trimfixtures.selectors.usable.read import cuts_in
from trimfixtures.words import usable as words
from trimfixtures.words.deeds import CUTTER
from trimfixtures.words.sizes import size, worked


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """What is gone or worn is to know: another one of its size does as well. A cut out of its tolerance stops."""
    found = cuts_in(asked)
    for tool in asked.tools:
        every = found.get(tool.pk, ())
        yield from ((tool.pk, one) for one in (*_off(asked, tool, every), *_gone(tool, every), *_worn(tool, every)))


def _off(asked: Asked, tool: Tool, every: Iterable[Cut]) -> Iterator[Reason]:
    """One reason for all of them."""
    off = [one for one in every if one.off and one.fit is not None]
    said = []
    for one in off:
        error, tolerance = one.fit.error, one.feature.tolerance_mm  # type: ignore[union-attr]
        typed = one.feature.as_typed.get("tolerance_mm")
        limit = size(tolerance, asked.units, typed) if tolerance is not None else ""
        said.append(words.fit_off(str(one.feature), worked(abs(error), asked.units), limit, deep=error < 0))
    if off:
        took = _each(two for one in off for two in (one.feature.cutter, one.feature.bushing) if two is not None)
        yield Reason("fit_off", tool.code, " ".join(said), words.take_true_ones(), CUTTER, where=_page(took))


def _gone(tool: Tool, every: Iterable[Cut]) -> Iterator[Reason]:
    gone = _each(one for cut in every for one in cut.gone)
    cutters = [one for one in gone if one.kind == CutterKind.CUTTER]
    bushings = [one for one in gone if one.kind == CutterKind.BUSHING]
    if cutters:
        text, mend = words.cutter_gone([one.code for one in cutters]), words.get_one(len(cutters))
        yield Reason("cutter_gone", tool.code, text, mend, CUTTER, stops=False, where=_page(cutters))
    if bushings:
        text, mend = words.bushing_gone([one.code for one in bushings]), words.get_one(len(bushings))
        yield Reason("bushing_gone", tool.code, text, mend, CUTTER, stops=False, where=_page(bushings))


def _worn(tool: Tool, every: Iterable[Cut]) -> Iterator[Reason]:
    worn = _each(one for cut in every for one in cut.worn)
    if worn:
        text, mend = words.cutter_worn([one.code for one in worn]), words.fresh_one(len(worn))
        yield Reason("cutter_worn", tool.code, text, mend, CUTTER, stops=False, where=_page(worn))


def _each(found: Iterable[Cutter]) -> list[Cutter]:
    """Several cuts may share one."""
    return list({one.pk: one for one in found}.values())


def _page(of: list[Cutter]) -> str:
    """Where sizes and states are said: of one its page, else the list."""
    return reverse("cutter", args=[of[0].code]) if len(of) == 1 else reverse("cutters")
