"""The sheet of a tool set in words, for paper: every time has its date, since nobody knows on which day it is read."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Any

from django.utils.text import Truncator
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.drawing.timebar import TimeBar
from tooling.words import lay_up_from
from tooling.words.cautions import Caution, among_others
from tooling.words.counting import capital
from tooling.words.keeping import in_groups
from tooling.words.measures import measure
from tooling.words.picked import Picked, ToolSaid
from tooling.words.time_bar import rows, time_bar
from tooling.words.when import on_paper, whole_minute, with_dates

# Letters of number and revision that the head and foot of every page have room for; the first page has all of them.
_WHOSE = 30


@dataclass(frozen=True, slots=True)
class StepSaid:
    """Work of the hands: from when to when, what, on which surface, and how long it then waits."""

    when: str
    what: str
    on: str
    then: str


@dataclass(frozen=True, slots=True)
class StopSaid:
    """A place on the walk, and the tools that are got there."""

    code: str
    name: str
    within: str
    tools: list[ToolSaid]


@dataclass(frozen=True, slots=True)
class CheckSaid:
    """How the history of a tool stands."""

    code: str
    entries: str
    digest: str


@dataclass(frozen=True, slots=True)
class SetSheet:
    """All that stands on it. `whose`: the part's number and revision, cut where they are long."""

    whose: str
    as_of: str
    facts: list[tuple[str, str]]
    state: str
    beside: tuple[str, ...]
    steps: list[StepSaid]
    bar: TimeBar | None
    order: str
    stops: list[StopSaid]
    hardware: list[str]
    cautions: list[Caution]
    checks: list[CheckSaid]


def set_sheet(of: Any, units: str) -> SetSheet:
    """The words of a `SetSheetOf`, in the reader's units."""
    with with_dates():
        return _Paper(of, units).sheet()


class _Paper:
    def __init__(self, of: Any, units: str) -> None:
        self.of, self.units, self.zone = of, units, of.shop.zone
        self.picked = Picked(of, units)

    def sheet(self) -> SetSheet:
        return SetSheet(
            whose=str(Truncator(str(self.of.revision)).chars(_WHOSE)),
            as_of=on_paper(self.of.at, self.zone),
            facts=[(name, words) for name, words in self.facts() if words],
            state=lay_up_from.sentence(self.of.found, self.of.at, self.zone),
            beside=tuple(self.beside()),
            steps=list(self.steps()),
            bar=self.bar(),
            order=self.order(),
            stops=[self.stop(one) for one in self.of.stops],
            hardware=[_hardware(line, others) for line, others in self.of.hardware],
            cautions=[among_others(about, family) for about, family in self.dangers()],
            checks=[_check(one) for one in sorted(self.of.tools, key=lambda one: one.tool.code)],
        )

    def facts(self) -> Iterator[tuple[str, str]]:
        row = self.of.revision
        yield _("Cure"), self.number(row, "cure_c", "°C")
        yield _("Peak"), self.number(row, "peak_c", "°C")
        yield _("Lay-up"), self.number(row, "layup_minutes", "min") or _("not timed")
        yield _("In the mold"), self.number(row, "in_mold_hours", "h") or _("not said")
        yield _("Process"), ", ".join(filter(None, (row.resin.strip(), row.process.strip())))

    def number(self, row: Any, column: str, si: str) -> str:
        value = getattr(row, column)
        return "" if value is None else str(measure(value, si, self.units, row.as_typed.get(column)))

    def beside(self) -> Iterator[str]:
        """What the answer assumes, and what the set lacks."""
        if self.of.answer.why:
            yield self.of.answer.why
        yield from self.of.found.assumed

    def steps(self) -> Iterator[StepSaid]:
        """What the time bar shows, in the order of time."""
        for row in sorted(rows(self.of.found), key=lambda row: (row.begins, row.ends)):
            until = on_paper(whole_minute(row.waits_until), self.zone) if row.waits_until is not None else ""
            yield StepSaid(_span(row.begins, row.ends, self.zone), capital(row.what), row.surface, until)

    def bar(self) -> TimeBar | None:
        """When hands are at work and when it waits; None where nothing is to be done, or no time can be said."""
        if self.of.found.cannot is not None:
            return None
        return time_bar(self.of.found, self.of.hours, self.of.at, self.zone)

    def order(self) -> str:
        """In which order the mold inserts go in."""
        if len(self.of.inserts) < 2:
            return ""
        codes = ", ".join(f"{number} {one.tool.code}" for number, one in enumerate(self.of.inserts, 1))
        return _("The mold inserts go in in this order: %(codes)s.") % {"codes": codes}

    def stop(self, stop: Any) -> StopSaid:
        tools = [self.picked.tool(one) for one in stop.tools]
        if stop.place is None:
            return StopSaid("", _("Not on the racks: find these first"), "", tools)
        # A shelf that is called after its rack says that itself.
        above = [place.name for place in stop.above if not stop.place.name.casefold().startswith(place.name.casefold())]
        within = ", ".join(above)
        return StopSaid(
            stop.place.code, stop.place.name, _("in: %(places)s") % {"places": within} if within else "", tools
        )

    def dangers(self) -> Iterator[tuple[str, str]]:
        """What a caution is said of, with the family of its coats: the lift, the work that comes first, the trim."""
        yield "lift", ""
        if any(work.out_at is not None for work in self.of.found.works):
            yield "pull", ""
        names = {step.name for work in self.of.found.works for step in work.steps}
        families = {work.family for work in self.of.found.works if work.steps}
        if names & {"strip"}:
            yield "strip", ""
        if names & {"sealer", "coat"}:
            yield "coats", families.pop() if len(families) == 1 else "other"
        if any(one.film for one in self.of.tools):
            yield "film", ""
        yield "lay_up", ""
        if any(one.tool.kind == "trim_mask" for one in self.of.tools):
            yield "trim", ""


def _span(starts: datetime, ends: datetime, zone: tzinfo) -> str:
    """12 May 2026, 07:40 to 07:55, with the second date where that is another."""
    begun, done = on_paper(starts.replace(second=0), zone), on_paper(whole_minute(ends), zone)
    same, _comma, clock = done.rpartition(", ")
    return _("%(from)s to %(to)s") % {"from": begun, "to": clock if begun.startswith(same) else done}


def _hardware(line: Any, others: list[Any]) -> str:
    said = " ".join([line.line.what, *(_("or %(what)s") % {"what": one.line.what} for one in others)])
    return said if line.needed else _("%(what)s (optional)") % {"what": said}


def _check(one: Any) -> CheckSaid:
    count = one.summary.count
    entries = ngettext("%(n)d entry", "%(n)d entries", count) % {"n": count}
    return CheckSaid(one.tool.code, entries, in_groups(one.summary.head))
