"""A trim mask in words: what it is and how it sits, for its page and for paper."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.cautions import Caution
from tooling.words.counting import capital
from tooling.words.sizes import times, worked
from trimfixtures.models import Method
from trimfixtures.words.cautions import at_work

# Where a cutter that turns clockwise is drawn to what guides it.
_FEED = gettext_lazy(
    "Feed against the turn of the cutter. A hand-held router seen from above turns clockwise: keep the guiding edge "
    "to the left of the way the router goes: clockwise in an opening, counterclockwise round the outside. Under a "
    "table or from below it turns the other way: work out the way anew, and try it with the power off. Never with the "
    "turn (a climb cut): it runs away. (Common practice, no source.)"
)
_HOLDS_FAST = gettext_lazy(
    "Before the start, try by hand that trim mask and part hold. No screw in the way of the cut; tape does not hold on "
    "wax, PVA or release; vacuum is read on its gauge. (Common practice, no source.)"
)


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that is known, with its name; `strong`: what is taken in the hand."""

    name: str
    words: str
    strong: bool = False


def stage_and_hand(of: Any) -> str:
    """Net cut, left-hand; "" where neither is said."""
    stage = of.mask.get_stage_display() if of.mask is not None else ""
    return capital(", ".join(str(one) for one in (stage, of.tool.get_hand_display()) if one))


def sits(of: Any, units: str) -> list[Fact]:
    """How it sits on the part, and what else is known of it; only what somebody has said."""
    return [replace(one, words=capital(one.words)) for one in _sits(of, units) if one.words]


def _sits(of: Any, units: str) -> Iterator[Fact]:
    mask = of.mask
    if mask is None:
        return
    yield Fact(_("Datum"), mask.datum, strong=True)
    yield Fact(_("Held by"), mask.held_by)
    yield Fact(_("The part rests on"), mask.support)
    yield Fact(_("Guiding surface"), mask.guiding)
    yield Fact(_("Seal the cut edge"), mask.seal_edge)
    yield Fact(_("Check of the edge"), _checked(of))
    yield Fact(_("Net cut, all round"), _round(of.outline, units))
    yield Fact(_("Note"), mask.note)


def _checked(of: Any) -> str:
    """After how many parts, and where."""
    every = of.mask.check_every
    text = ngettext("after every %(n)d part", "after every %(n)d parts", every or 0)
    said = [text % {"n": every}] if every else []
    if of.points:
        said.append(_("at %(points)s") % {"points": ", ".join(one.name for one in of.points)})
    return ", ".join(said)


def _round(outline: Any, units: str) -> str:
    if outline is None:
        return ""
    left, low, right, high = outline.bounds
    box = times(worked(right - left, units), worked(high - low, units))
    return _("%(length)s, in a box of %(box)s") % {"length": worked(outline.length, units), "box": box}


def feed(cuts: list[Any]) -> str:
    """Which way round a router goes; "" where none is used."""
    return str(_FEED) if any(one.feature.method in Method.ROUTED for one in cuts) else ""


def holds_fast(cuts: list[Any]) -> str:
    """What to try before the first cut; "" where only lines are drawn."""
    return str(_HOLDS_FAST) if any(one.feature.method != Method.SCRIBE for one in cuts) else ""


def cautions(of: Any) -> list[Caution]:
    """Of the work with it, first; then of the sealing of its edge."""
    seals = [of.mask.seal_edge] if of.mask is not None else []
    return at_work({one.feature.method for one in of.cuts}, seals)


def not_confirmed(of: Any) -> str:
    """The revisions in whose sets it stands, and nobody has said that it is right for them; "" where there is none."""
    return _("Not confirmed for %(parts)s.") % {"parts": ", ".join(map(str, of.open))} if of.open else ""
