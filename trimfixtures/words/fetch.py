"""What is fetched before the first cut, and where it is changed between two: in short, for whoever stands at the bench.

A tool of the library by its code, another by its size.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.counting import capital
from tooling.words.sizes import given, unbroken
from trimfixtures.models import DrillBushing, Method

# Of a trim mask with fewer cuts its cuts say as much
FEWEST = 2
_CUTTERS = {
    Method.GUIDE_BUSHING: gettext_lazy("cutter"),
    Method.BEARING: gettext_lazy("cutter"),
    Method.DRILL: gettext_lazy("drill"),
}
_GUIDES = {Method.GUIDE_BUSHING: gettext_lazy("guide bushing"), Method.BEARING: gettext_lazy("bearing")}


@dataclass(frozen=True, slots=True)
class SetUp:
    """What is in the hand for some cuts that follow each other, and which those are: number and name."""

    tools: str
    cuts: list[tuple[int, str]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Fetch:
    """All that is taken, each once, in the order in which it is wanted; changes: how often it is changed, in words."""

    tools: str
    changes: str
    set_ups: list[SetUp]


def fetch(cuts: list[Any], units: str) -> Fetch | None:
    """Of rows of `selectors.cuts` in cutting order; None where there are too few to lose one's way."""
    if len(cuts) < FEWEST:
        return None
    every: dict[str, None] = {}
    set_ups: list[SetUp] = []
    for number, cut in enumerate(cuts, 1):
        taken = [unbroken(one) for one in _taken(cut, units)]
        every |= dict.fromkeys(taken)
        if not set_ups or set_ups[-1].tools != capital(", ".join(taken)):
            set_ups.append(SetUp(capital(", ".join(taken))))
        set_ups[-1].cuts.append((number, str(cut.feature)))
    changes = len(set_ups) - 1
    text = ngettext("%(n)d change of tools.", "%(n)d changes of tools.", changes) % {"n": changes}
    return Fetch(capital(", ".join(every)), text if changes else _("No change of tools."), set_ups)


def _taken(cut: Any, units: str) -> Iterator[str]:
    """Pilot, cutter, and what guides it, as they are taken in the hand; what is gone is not to be fetched."""
    feature = cut.feature
    if feature.pilot_mm is not None:
        yield _("pilot drill Ø %(size)s") % {"size": given(feature, "pilot_mm", units)}
    yield _one(cut, "cutter", str(_CUTTERS.get(feature.method, feature.get_method_display())), units)
    if feature.method == Method.DRILL and feature.drill_bushing:
        yield _one(cut, "bushing", str(DrillBushing(feature.drill_bushing).label), units)
    elif feature.method in Method.ROUTED:
        yield _one(cut, "bushing", str(_GUIDES[feature.method]), units)


def _one(cut: Any, column: str, kind: str, units: str) -> str:
    """R6, guide bushing Ø 16 mm, scribe; what is gone is not to be fetched."""
    tool, size = getattr(cut.feature, column), given(cut.feature, f"{column}_mm", units)
    if tool is not None:
        return _("%(code)s (gone)") % {"code": tool.code} if tool in cut.gone else tool.code
    turns = cut.feature.method in (*Method.ROUTED, Method.DRILL)
    return f"{kind} Ø {size}" if size and turns else f"{kind} {size}".strip()
