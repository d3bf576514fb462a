"""The sheet of a tool set in words, for paper: every time has its date, since nobody knows on which day it is read."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.text import Truncator
from django.utils.translation import gettext as _

from tooling.drawing.timebar import TimeBar
from tooling.words import lay_up_from, no_lay_up, work_first
from tooling.words.cautions import WARNING, Caution, among_others
from tooling.words.keeping import in_groups, so_many
from tooling.words.measures import measure
from tooling.words.time_bar import time_bar
from tooling.words.to_get import ToolSaid, ToolWords
from tooling.words.tool_set import beside_role
from tooling.words.when import on_paper, with_dates
from tooling.words.work_first import StepSaid

# Letters of number and revision that the head and foot of every page have room for; the first page has all of them.
_WHOSE = 30
# What each step of the work is dangerous by.
_DANGERS = {"strip": "strip", "sealer": "coats", "coat": "coats", "film": "film"}


@dataclass(frozen=True, slots=True)
class AtPlaceSaid:
    """A place along the racks, and the tools that are got there."""

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
    """All that stands on it. `whose`: the part's number and revision, cut where they are long.

    before, steps, last: what to do first; `notes`: what its times hold for. working, lifting: cautions for right there.
    """

    whose: str
    as_of: str
    facts: list[tuple[str, str]]
    state: str
    beside: tuple[str, ...]
    notes: tuple[str, ...]
    before: tuple[str, ...]
    steps: list[StepSaid]
    last: tuple[str, ...]
    bar: TimeBar | None
    order: str
    places: list[AtPlaceSaid]
    hardware: list[str]
    working: list[Caution]
    lifting: list[Caution]
    cautions: list[Caution]
    checks: list[CheckSaid]


def set_sheet(of: Any, units: str) -> SetSheet:
    """The words of a `SetSheetOf`, in the reader's units."""
    with with_dates():
        return _Paper(of, units).sheet()


class _Paper:
    def __init__(self, of: Any, units: str) -> None:
        self.of, self.units, self.zone = of, units, of.shop.zone
        self.tools = ToolWords(of, units)

    def sheet(self) -> SetSheet:
        dangers = [*(among_others(about, family) for about, family in self.dangers()), *self.of.cautions]
        return SetSheet(
            whose=str(Truncator(str(self.of.revision)).chars(_WHOSE)),
            as_of=on_paper(self.of.at, self.zone),
            facts=[(name, words) for name, words in self.facts() if words],
            state=lay_up_from.sentence(self.of.found, self.of.at, self.zone),
            beside=tuple(self.beside()),
            notes=tuple(work_first.notes(self.of)),
            before=tuple(work_first.before(self.of)),
            steps=list(work_first.steps(self.of)),
            last=tuple(work_first.last(self.of)),
            bar=self.bar(),
            order=self.order(),
            places=[self.place(one) for one in self.of.places],
            hardware=[_hardware(line, others) for line, others in self.of.hardware],
            working=[one for one in dangers if one.about in self.working()],
            lifting=[one for one in dangers if one.about == "lift"],
            # What could harm most stands first, under one signal word.
            cautions=sorted(dangers, key=lambda one: one.signal != WARNING),
            checks=[_check(one) for one in sorted(self.of.tools, key=lambda one: one.tool.code)],
        )

    def facts(self) -> Iterator[tuple[str, str]]:
        row = self.of.revision
        yield _("Cure"), self.number(row, "cure_c", "°C")
        yield _("Peak"), self.number(row, "peak_c", "°C") or _("not said")
        yield _("Lay-up"), self.number(row, "layup_minutes", "min") or _("not timed")
        yield _("In the mold"), self.in_mold(row) or _("not said")
        yield _("Process"), ", ".join(filter(None, (row.resin.strip(), row.process.strip())))

    def number(self, row: Any, column: str, si: str) -> str:
        value = getattr(row, column)
        return "" if value is None else str(measure(value, si, self.units, row.as_typed.get(column)))

    def in_mold(self, row: Any) -> str:
        """The hours, which say nothing of the part that is in."""
        hours = self.number(row, "in_mold_hours", "h")
        return _("%(hours)s by the shop’s own number; check that it is hard") % {"hours": hours} if hours else ""

    def beside(self) -> Iterator[str]:
        """What the answer assumes, and what the set lacks. What goes in stands behind the work, since it comes last."""
        if self.of.answer.why:
            yield self.of.answer.why
        goes_in = {no_lay_up.said_of(one.insert, one.mend) for one in self.of.put_in}
        yield from filter(None, (self.of.found.by_the_record, *self.of.found.besides))
        yield from (words for words in self.of.found.assumed if words not in goes_in)
        yield from filter(None, map(beside_role, sorted({one.tool.kind for one in self.of.tools})))

    def bar(self) -> TimeBar | None:
        """When hands are at work and when it waits; None where nothing is to be done, or no time can be said."""
        hours = self.of.found.hours
        return time_bar(self.of.found, hours, self.of.at, self.zone) if hours is not None else None

    def order(self) -> str:
        """In which order the mold inserts go in."""
        if len(self.of.inserts) < 2:
            return ""
        codes = ", ".join(f"{number} {one.tool.code}" for number, one in enumerate(self.of.inserts, 1))
        return _("The mold inserts go in in this order: %(codes)s.") % {"codes": codes}

    def place(self, at: Any) -> AtPlaceSaid:
        tools = [self.tools.tool(one) for one in at.tools]
        if at.place is None:
            return AtPlaceSaid("", _("Not on the racks: find these first"), "", tools)
        # A shelf that is called after its rack says that itself.
        above = [place.name for place in at.above if not at.place.name.casefold().startswith(place.name.casefold())]
        within = ", ".join(above)
        return AtPlaceSaid(
            at.place.code, at.place.name, _("in: %(places)s") % {"places": within} if within else "", tools
        )

    def working(self) -> set[str]:
        """What the work that comes first is dangerous by."""
        names = {step.name for work in self.of.found.works for step in work.steps}
        about = {_DANGERS[name] for name in names} | {"pull" for one in self.of.found.works if one.out_at is not None}
        return about | {"insert" for one in self.of.put_in} | {"insert_out" for one in self.of.put_in if one.out_of}

    def dangers(self) -> Iterator[tuple[str, str]]:
        """What a caution is said of, with the family of its coats: the lift, the work that comes first."""
        yield "lift", ""
        if self.parts_in():
            yield "pull", ""
        about = self.working()
        families = {work.family for work in self.of.found.works if work.steps}
        yield from ((one, "") for one in ("insert_out", "strip") if one in about)
        if "coats" in about:
            yield "coats", families.pop() if len(families) == 1 else "other"
        if "film" in about or any(one.film for one in self.of.tools):
            yield "film", ""
        if "insert" in about:
            yield "insert", ""
        yield "lay_up", ""

    def parts_in(self) -> bool:
        """Whether a part is in a tool that is named here."""
        named = [line for tool in self.of.tools for line in (tool.now, *tool.others)]
        return any(work.out_at is not None for work in self.of.found.works) or any(
            reason.code == "part_in_mold" for line in named for reason in line.reasons
        )


def _hardware(line: Any, others: list[Any]) -> str:
    said = " ".join([line.line.what, *(_("or %(what)s") % {"what": one.line.what} for one in others)])
    return said if line.needed else _("%(what)s (optional)") % {"what": said}


def _check(one: Any) -> CheckSaid:
    return CheckSaid(one.tool.code, so_many(one.summary.count), in_groups(one.summary.head))
