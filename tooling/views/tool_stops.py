"""What the page of a tool says of the tool sets that stop it, and the deed that mends it before any lay-up."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise

from shared.access import can_lead, can_log
from tooling.models import SetRole
from tooling.selectors.lay_up_from import lay_up_from
from tooling.selectors.set_stops import SetStop, set_stops
from tooling.selectors.tool import ToolPage
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import LAY_UP
from tooling.words.lay_up_from import sentence
from tooling.words.set_stops import alike, replaces, stopped_for_all

# So many parts are named by what stops each; more are no look at a tool any more.
_SHORT = 3


@dataclass(frozen=True, slots=True)
class Stopped:
    """One reason: for which part where not all are alike, whose it is, what it is, what mends it and where."""

    part: str
    of: str
    text: str
    mend: str
    word: str | Promise = ""
    address: str = ""


@dataclass(frozen=True)
class Stops:
    """What the sets say of the tool: `of` each part; `whole`: when its one part can be laid up, in words."""

    shown: ToolPage
    of: list[SetStop]
    person: Any

    @property
    def said(self) -> list[Stopped]:
        """Each reason; none where the first sentence has it and nothing mends it."""
        if alike(self.of):
            every = [self._stopped(one, "") for one in self.of[0].reasons]
            if replaces(self.shown, self.of):
                every[0] = Stopped("", "", "", every[0].mend, every[0].word, every[0].address)
            return [one for one in every if one.text or one.mend or one.address]
        named = [one for one in self.of if one.reasons]
        return list(self._named(named)) if len(named) <= _SHORT else []

    def _named(self, stopped: Sequence[SetStop]) -> Iterator[Stopped]:
        for one in stopped:
            yield from (self._stopped(reason, one.answer.revision.part.number) for reason in one.reasons)

    @property
    def part(self) -> str:
        """The one part whose set stops it."""
        return self.of[0].answer.revision.part.number if len(self.of) == 1 and self.of[0].reasons else ""

    @property
    def whole(self) -> str:
        """When that part can be laid up, or why nobody can say."""
        return sentence(lay_up_from(self.of[0].answer), self.shown.at, self.shown.shop.zone) if self.part else ""

    def mends_first(self, likeliest: Any) -> Stopped | None:
        """What is done before a lay-up that would be the likeliest deed."""
        if likeliest != LAY_UP or not stopped_for_all(self.of):
            return None
        return next((one for one in map(self._first, self.of) if one.address), None)

    def _first(self, one: SetStop) -> Stopped:
        every = [self._stopped(reason, "") for reason in one.reasons]
        return next((one for one in every if one.address), every[0])

    def _stopped(self, one: Reason, part: str) -> Stopped:
        of = one.tool if one.tool != self.shown.tool.code else ""
        deed = one.deed
        may = can_log(self.person) and deed is not None and (can_lead(self.person) or not deed.is_a_leads)
        if not may or deed is None:
            return Stopped(part, of, one.text, one.mend)
        return Stopped(part, of, one.text, one.mend, deed.word, one.address)


def of_tool(shown: ToolPage, sets: Any, person: Any) -> Stops:
    """Nothing is asked of what has no release surface, is out of use, or is still being made."""
    out = shown.own.status == "retired" or shown.summary.making
    asked = {} if out or shown.tool.kind not in (SetRole.MOLD, SetRole.INSERT) else sets
    return Stops(shown, set_stops(shown.tool, asked, shown.at, units=person.units) if asked else [], person)
