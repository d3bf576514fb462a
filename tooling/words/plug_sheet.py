"""The sheet of a plug in words, for paper: every time has its date, since nobody knows on which day it is read."""

from dataclasses import dataclass
from typing import Any

from django.utils.text import Truncator
from django.utils.translation import gettext as _

from tooling.words.cautions import Caution
from tooling.words.keeping import in_groups, so_many
from tooling.words.lines import how_to_lift
from tooling.words.plug import Fact, PassSaid, passes_said, sat, set_up_like
from tooling.words.plug_cautions import cautions
from tooling.words.plug_work import Done, done_by_hand
from tooling.words.when import on_paper, with_dates

# Letters of a code that the head of every page has room for; the first page has all of them.
_WHOSE = 60


@dataclass(frozen=True, slots=True)
class PlugSheet:
    """All that stands on it. `whose`: the plug, for the head of every page. stage: as other sheets have it; none."""

    whose: str
    as_of: str
    lift: str
    seat: list[Fact]
    like: str
    passes: list[PassSaid]
    work: list[Done]
    cautions: list[Caution]
    check: str
    entries: str
    stage: str = ""


def plug_sheet(of: Any, units: str) -> PlugSheet:
    """The words of what `selectors.plug.plug_of` gave, in the reader's units."""
    with with_dates():
        return PlugSheet(
            whose=str(Truncator(of.tool.code).chars(_WHOSE)),
            as_of=on_paper(of.at, of.shop.zone),
            lift=how_to_lift(of.tool, units),
            seat=sat(of.record),
            like=f"{_('Set up like %(plug)s.') % {'plug': of.like.code}} {set_up_like(of)}"
            if of.like is not None
            else "",
            passes=passes_said(of.passes, units),
            work=done_by_hand(of, of.shop.zone),
            cautions=cautions(),
            check=in_groups(of.tool.summary.head),
            entries=so_many(of.tool.summary.count),
        )


def scale(times: float) -> str:
    """1 : 2 is smaller than it is."""
    return _("Scale %(ratio)s.") % {"ratio": f"{times:g} : 1" if times >= 1 else f"1 : {round(1 / times, 1):g}"}
