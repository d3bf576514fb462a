"""The tool set on the page of its part: each line usable or not, why, and for whoever may the way to what mends it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import tzinfo
from typing import Any

from django.urls import reverse
from django.utils.functional import Promise
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from shared.access import can_do
from tooling.calc.tape import Tape, tape_of
from tooling.models import SetRole
from tooling.selectors.offered import papers
from tooling.selectors.tool_set import LineNow, ToolSet
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import INSTALLED, LAY_UP, Deed, put_in, stands_out
from tooling.words.status import sentence
from tooling.words.tool_set import beside_role, fine, headings, own_pulls, through


@dataclass(frozen=True, slots=True)
class Link:
    """What a button or a link says, whom it is about where the words do not say, and where it leads."""

    word: str | Promise
    about: str
    address: str


@dataclass(frozen=True, slots=True)
class Said:
    """One reason or note: what it is, in whose place where it is another tool's, what mends it, and the way there."""

    text: str
    of: str = ""
    mend: str = ""
    link: Link | None = None


@dataclass(frozen=True)
class SetRow:
    """One line with its alternatives. `inside`: a mold. `button`: the likeliest deed, filled in where `first`.

    papers: what another app prints of it for this part.
    """

    now: LineNow
    inside: bool
    mark: str
    fine: str
    own: str
    reasons: list[Said]
    notes: list[Said]
    tape: Tape | None
    button: Link | None
    others: list["SetRow"]
    papers: list[Link]
    first: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """The lines of one role, under its heading. `beside`: what the word usable does not say of them."""

    role: str
    heading: str
    rows: list[SetRow]
    beside: str = ""


def sections(answer: ToolSet, person: Any, back: str, zone: tzinfo) -> list[Section]:
    """The set by role, in its order; `back` is where a deed leads when it is written."""
    rows = _Rows(answer, person, back, zone)
    found = []
    for role in SetRole.values:
        lines = [(first, others) for first, others in answer.with_others if first.role == role]
        if lines:
            shown = [rows.of(first, others) for first, others in lines]
            found.append(Section(role, headings(role, len(lines)), shown, beside_role(role)))
    return found


class _Rows:
    def __init__(self, answer: ToolSet, person: Any, back: str, zone: tzinfo) -> None:
        self.answer, self.asked, self.back, self.zone = answer, answer.asked, back, zone
        self.person = person
        self._stands_out = True

    def of(self, first: LineNow, others: Iterable[LineNow]) -> SetRow:
        """One that is offered, with its alternatives behind it."""
        return self._row(first, [self._row(one, []) for one in others])

    def _row(self, now: LineNow, others: list[SetRow]) -> SetRow:
        elsewhere, own = self.answer.said_at(now)
        reasons = [self._said(one, now) for one in own]
        links = (said.link for said, reason in zip(reasons, own, strict=True) if not self._has_its_own(reason, now))
        button = next((one for one in links if one is not None), None) if now.offered else None
        if now.offered and button is None and now.role == SetRole.MOLD and self.answer.usable and self._may(LAY_UP):
            button = self._lay_up(now.line.what)
        # What the button does need not stand in words beside it once more.
        reasons = [Said(one.text, one.of, one.mend) if one.link is button else one for one in reasons]
        if elsewhere:
            reasons.insert(0, Said(through(elsewhere)))
        first = self._stands_out and button is not None and not self._waits(now)
        self._stands_out = self._stands_out and not first
        return SetRow(
            now=now,
            inside=now.tool is not None and self.asked.whereabouts[now.tool.pk].mold is not None,
            mark=next((one.mark for one in now.reasons if one.mark), ""),
            fine=self._fine(now) if now.usable and now.tool is not None else "",
            own=own_pulls(self.asked.part, now.own_pulls),
            reasons=reasons,
            notes=[self._said(one, now) for one in now.notes],
            tape=self._tape(now),
            button=button,
            others=others,
            papers=self._papers(now),
            first=first,
        )

    def _papers(self, now: LineNow) -> list[Link]:
        if now.tool is None:
            return []
        code, asked = now.tool.code, {"part": self.asked.part, "revision": self.answer.revision.revision}
        return [Link(one.word, code, _with(reverse(one.name, args=[code]), asked)) for one in papers.of(now.tool.kind)]

    def _waits(self, now: LineNow) -> bool:
        """Whether a part is in it whose time is not up: to pull it is not the likeliest deed."""
        surface = self._surface(now)
        return surface is not None and surface.state.part is not None and not stands_out(surface.status, self.answer.at)

    def _lay_up(self, code: str) -> Link:
        """For the revision whose set it is: a newer one may have another."""
        asked, name = {"part": self.asked.part}, self.answer.revision.revision
        if name or "?" in self.back:
            asked["revision"] = name
        return Link(LAY_UP.word, code, _with(reverse(LAY_UP.name, args=[code]), asked))

    def _has_its_own(self, reason: Reason, now: LineNow) -> bool:
        """Whether the deed stands at the line of a mold insert that has to be worked on before it goes in."""
        elsewhere = reason.tool != now.line.what and reason.tool in self.answer.said_alone
        return elsewhere and reason.code == "insert_missing" and reason.deed != INSTALLED

    def _said(self, reason: Reason, now: LineNow) -> Said:
        of = reason.tool if reason.tool != now.line.what else ""
        return Said(reason.text, of, reason.beside, self._link(reason, now))

    def _may(self, deed: Deed) -> bool:
        return can_do(self.person, as_lead=deed.is_a_leads)

    def _link(self, reason: Reason, now: LineNow) -> Link | None:
        """The way to what mends it, for whoever may, and from there back to this page."""
        deed, more = reason.deed, {"back": self.back}
        if deed is None or not self._may(deed):
            return None
        home = self.asked.whereabouts[now.line.tool_id or 0].home
        if reason.code == "not_home" and home is not None:
            return Link(_("It is home"), reason.tool, _with(reason.address, {**more, "to": home.code}))
        if deed == INSTALLED and now.role == SetRole.MOLD:
            more["which"] = now.line.what
        address = _with(reason.address, more)
        if deed == INSTALLED and reason.tool != now.line.what:
            return Link(put_in(reason.tool), "", address)
        return Link(deed.word, reason.tool if reason.of_tool else "", address)

    def _surface(self, now: LineNow) -> Any:
        key = now.line.tool_id
        return next(iter(self.asked.surfaces.get(key, ())), None) if key is not None else None

    def _tape(self, now: LineNow) -> Tape | None:
        surface = self._surface(now)
        return None if surface is None else tape_of(surface.state, self.asked.read.book, self.zone, self.answer.at)

    def _fine(self, now: LineNow) -> str:
        """How a usable surface stands, in a sentence; of what has none, what its app says."""
        surface = self._surface(now)
        if surface is None:
            return now.stands
        recipe = self.asked.recipe_of(surface)
        family = recipe.family if recipe is not None else "other"
        said = sentence(surface.status, family=family, now=self.answer.at, zone=self.zone, kind=surface.tool.kind)
        return fine(said, surface.status.status)


def _with(address: str, query: dict[str, str]) -> str:
    return f"{address}{'&' if '?' in address else '?'}{urlencode(query)}"
