"""Cutters and guide bushings of trim masks that are gone or worn, and cuts that they put off their line."""

from collections.abc import Iterable, Iterator

from django.urls import reverse

from tooling.models import Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import CUTS
from trimfixtures.models import Cutter, CutterKind
from trimfixtures.selectors.cuts import Cut
from trimfixtures.selectors.usable.read import cuts_in
from trimfixtures.words import fit
from trimfixtures.words import usable as words
from trimfixtures.words.deeds import CUTTER


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """What is gone or worn is to know: another one of its size does as well. A cut out of its tolerance stops."""
    found = cuts_in(asked)
    for tool in asked.tools:
        every = found.get(tool.pk, ())
        yield from ((tool.pk, one) for one in (*_off(asked, tool, every), *_gone(tool, every), *_worn(tool, every)))


def _off(asked: Asked, tool: Tool, every: Iterable[Cut]) -> Iterator[Reason]:
    """One reason for all of them."""
    off = [one for one in every if one.off]
    if not off:
        return
    units = asked.units
    said = [words.fit_off(str(one.feature), fit.off_by(one, units), fit.tolerance(one.feature, units)) for one in off]
    by = [(one.feature, name) for one in off for name in fit.culprits(one)]
    mend = " ".join(dict.fromkeys(fit.mends(name, feature) for feature, name in by))
    took = _each(one for feature, name in by if name != "opening" and (one := getattr(feature, name)) is not None)
    deed, where = (CUTTER, _page(took)) if took else (CUTS, reverse("cuts", args=[tool.code]))
    yield Reason("fit_off", tool.code, " ".join(said), mend, deed, where=where)


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
