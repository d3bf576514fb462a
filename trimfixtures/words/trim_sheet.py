"""The trim sheet in words, for paper: every time has its date, since nobody knows on which day it is read."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.text import Truncator
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.cautions import Caution
from tooling.words.keeping import in_groups, so_many
from tooling.words.lines import how_to_lift
from tooling.words.when import on_paper, with_dates
from trimfixtures.words.cut_said import CutSaid, cuts_said
from trimfixtures.words.fetch import Fetch, fetch
from trimfixtures.words.trim import Fact, cautions, feed, holds_fast, not_confirmed, sits, stage_and_hand

# Letters of a code and stage that the head of every page has room for; the first page has all of them.
_WHOSE = 60
# Of a serial number, which somebody may have put into the address.
SERIAL = 40


@dataclass(frozen=True, slots=True)
class TrimSheet:
    """All that stands on it. `whose`: the trim mask, for the head of every page.

    part, name: the part that it is asked for; without one `parts` has all that it is for. serial: "" is a line to write
    on. fetch: what is taken, in short. sits: how it sits. rest: what else is known. against: what stands against its
    use.
    """

    whose: str
    as_of: str
    stage: str
    part: str
    name: str
    parts: str
    serial: str
    state: str
    against: tuple[str, ...]
    notes: tuple[str, ...]
    fetch: Fetch | None
    lift: str
    seat: list[Fact]
    cuts: list[CutSaid]
    feed: str
    holds_fast: str
    cautions: list[Caution]
    check: str
    entries: str


def trim_sheet(of: Any, units: str) -> TrimSheet:
    """The words of what `selectors.trim.sheet_of` gave, in the reader's units."""
    with with_dates():
        stage, cuts = stage_and_hand(of), cuts_said(of.cuts, units)
        stops = [one for one in of.reasons if one.stops]
        return TrimSheet(
            whose=whose(of.tool, stage),
            as_of=on_paper(of.at, of.shop.zone),
            stage=stage,
            part=str(of.part) if of.part is not None else "",
            name=of.part.name if of.part is not None else "",
            parts=_parts(of.serves),
            serial=str(Truncator(of.serial).chars(SERIAL)),
            state=_("Do not trim with it.") if stops else _("Nothing that was written down speaks against its use."),
            against=tuple(_against(stops)),
            notes=(*_wrong(cuts), *_notes(of)),
            fetch=fetch(of.cuts, units),
            lift=how_to_lift(of.tool, units),
            seat=sits(of, units),
            holds_fast=holds_fast(of.cuts),
            cuts=cuts,
            feed=feed(of.cuts),
            cautions=cautions(of),
            check=in_groups(of.tool.summary.head),
            entries=so_many(of.tool.summary.count),
        )


def whose(tool: Any, stage: str) -> str:
    """The trim mask as the head of every page names it."""
    return str(Truncator(", ".join(filter(None, (tool.code, stage)))).chars(_WHOSE))


def across(times: float) -> str:
    """Of a section: how thick a trim mask or a part is, it does not say."""
    return _("Scale %(ratio)s across; heights are no sizes.") % {"ratio": _ratio(times)}


def plan_scale(times: float) -> str:
    """Of the part from above."""
    return _("The part from above, scale %(ratio)s.") % {"ratio": _ratio(times)}


def _ratio(times: float) -> str:
    """1.5 : 1 is larger than it is, 1 : 4 smaller."""
    return f"{times:g} : 1" if times >= 1 else f"1 : {round(1 / times, 1):g}"


def not_to_scale() -> str:
    """A line that is drawn has no sizes."""
    return _("Not to scale.")


def _parts(serves: list[Any]) -> str:
    """SK520-DECK A, B; SK440-DECK A: each revision in whose set it is, and which of them nobody has confirmed."""
    by_part: dict[str, list[str]] = {}
    for one in reversed(serves):
        name = one.revision.revision
        said = name if one.confirmed else _("%(revision)s (not confirmed)") % {"revision": name}
        by_part.setdefault(one.revision.part.number, []).append(said.strip())
    each = (f"{number} {', '.join(filter(None, names))}".strip() for number, names in sorted(by_part.items()))
    return "; ".join(each)


def _against(stops: list[Any]) -> Iterator[str]:
    for one in stops:
        yield " ".join(filter(None, (one.text, one.beside)))
        yield from map(str, one.holds)


def _wrong(cuts: list[CutSaid]) -> Iterator[str]:
    """The cuts that are not to be made as they stand."""
    numbers = [str(one.number) for one in cuts if one.stops]
    if numbers:
        text = ngettext(
            "Not to be cut as it stands: cut %(numbers)s.",
            "Not to be cut as they stand: cuts %(numbers)s.",
            len(numbers),
        )
        yield text % {"numbers": ", ".join(numbers)}


def _notes(of: Any) -> Iterator[str]:
    """What only warns; and that it is not in the set of the part that it is asked for."""
    if of.part is not None and of.part.pk not in {one.revision.pk for one in of.serves}:
        yield _("It is not in the tool set of %(part)s: ask the lead before the cut.") % {"part": of.part}
    if of.part is None and of.open:
        yield not_confirmed(of)
    for one in of.reasons:
        if not one.stops:
            yield " ".join(filter(None, (one.text, one.beside)))
