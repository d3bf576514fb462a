"""What the page of a tool says of the tool sets that stop it, and the deed that mends it before any lay-up."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise

from shared.access import can_do
from tooling.models import SetRole
from tooling.selectors.lay_up_from import lay_up_from
from tooling.selectors.set_stops import SetStop, own_stop, set_stops
from tooling.selectors.tool import ToolPage
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import LAY_UP, TRIMMED
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
            if replaces(self.shown, self.of) and self.shown.tool.has_surface:
                every[0] = Stopped("", "", "", every[0].mend, every[0].word, every[0].address)
            return [one for one in every if one.text or one.mend or one.address]
        if not self.of:
            return []
        everywhere = set.intersection(*({*_told(one)} for one in self.of))
        once = [self._stopped(one, "") for key, one in _told(self.of[0]).items() if key in everywhere]
        named = [one for one in self.of if _told(one).keys() - everywhere]
        return once + (list(self._named(named, everywhere)) if len(named) <= _SHORT else [])

    def _named(self, stopped: Sequence[SetStop], everywhere: set[tuple[str, str]]) -> Iterator[Stopped]:
        for one in stopped:
            yield from (self._stopped(reason, one.part) for key, reason in _told(one).items() if key not in everywhere)

    @property
    def notes(self) -> list[Stopped]:
        """What a tool without release surface should be known of before it is used, whatever for: each once."""
        if self.shown.tool.has_surface:
            return []
        every = {note.key: note for one in self.of for note in one.notes}
        return [self._stopped(one, "") for one in every.values()]

    @property
    def part(self) -> str:
        """The one part whose lay-up it stops by its set."""
        stops = self.shown.tool.has_surface and len(self.of) == 1 and self.of[0].reasons
        return self.of[0].part if stops else ""

    @property
    def whole(self) -> str:
        """When that part can be laid up, or why nobody can say."""
        answer = self.of[0].answer if self.part else None
        return sentence(lay_up_from(answer), self.shown.at, self.shown.shop.zone) if answer is not None else ""

    def mends_first(self, likeliest: Any) -> Stopped | None:
        """What is done before a use that would be the likeliest deed."""
        if likeliest not in (LAY_UP, TRIMMED) or not stopped_for_all(self.of):
            return None
        return next((one for one in map(self._first, self.of) if one.address), None)

    def _first(self, one: SetStop) -> Stopped:
        every = [self._stopped(reason, "") for reason in one.reasons]
        return next((one for one in every if one.address), every[0])

    def _stopped(self, one: Reason, part: str) -> Stopped:
        of = one.tool if one.tool != self.shown.tool.code else ""
        deed = one.deed
        if deed is None or not can_do(self.person, as_lead=deed.is_a_leads):
            return Stopped(part, of, one.text, one.mend)
        return Stopped(part, of, one.text, one.mend, deed.word, one.address)


def _told(one: SetStop) -> dict[tuple[str, str], Reason]:
    """What stops it for a part, by what it says: one that is the same for every part names none."""
    return {(reason.key, reason.text): reason for reason in one.reasons}


def of_tool(shown: ToolPage, sets: Any, person: Any) -> Stops:
    """Nothing is asked of what has no release surface, is out of use, is still being made, or waits to be accepted."""
    waits = shown.summary.making or (shown.summary.accept_again and shown.own.status != "held")
    out = shown.own.status == "retired" or waits
    if out or shown.tool.kind not in SetRole.TAKES.values():
        return Stops(shown, [], person)
    found = set_stops(shown.tool, sets, shown.at, units=person.units)
    if not found and not shown.tool.has_surface:
        found = [own_stop(shown.tool, shown.at, units=person.units)]
    return Stops(shown, found, person)
