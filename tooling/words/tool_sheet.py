"""The sheet of a tool in words, for paper: every time has its date, since nobody knows on which day it is read.

What does not fit is left out in this order, step by step (`ROOMS`): cautions are said in short, long words that
people wrote are cut, the picture gets smaller, mold inserts and then older entries are only counted, last the picture
goes. The state with its date, a caution for each thing and the check value always stay. No deed is named as the next
one: whether it may be done is for the screen to say, and paper hangs about.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.text import Truncator
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words import history, holds, lines, reasons
from tooling.words.cautions import Caution, among_others
from tooling.words.counting import capital
from tooling.words.entries import Around, Told
from tooling.words.keeping import in_groups, so_many
from tooling.words.status import sentence
from tooling.words.terms import KINDS, term
from tooling.words.tool_facts import facts_of
from tooling.words.when import on_paper


@dataclass(frozen=True, slots=True)
class Room:
    """How much goes on the sheet: letters of each text that people wrote, holds, entries, inserts, mm of picture.

    `whole`: the cautions in full.
    """

    letters: int
    holds: int
    entries: int
    inserts: int
    picture: int
    whole: bool = False


# Each leaves less on the sheet than the one before; the first with which all is on one page is taken.
ROOMS = (
    Room(letters=400, holds=4, entries=10, inserts=12, picture=42, whole=True),
    Room(letters=400, holds=4, entries=10, inserts=12, picture=48),
    Room(letters=180, holds=4, entries=10, inserts=12, picture=42),
    Room(letters=90, holds=2, entries=10, inserts=12, picture=34),
    Room(letters=90, holds=2, entries=10, inserts=4, picture=34),
    Room(letters=90, holds=2, entries=6, inserts=4, picture=30),
    Room(letters=60, holds=1, entries=4, inserts=2, picture=0),
    Room(letters=46, holds=1, entries=2, inserts=0, picture=0),
)


@dataclass(frozen=True, slots=True)
class Fact:
    """Something known of the tool; `wide` where its words want a line of their own."""

    name: str
    words: str
    wide: bool = False


@dataclass(frozen=True, slots=True)
class InsertSaid:
    """A mold insert that is in it."""

    code: str
    name: str
    said: str
    tape: Any


@dataclass(frozen=True, slots=True)
class LineSaid:
    """An entry: when and by whom, what, and below it what became of it. `void`: struck through."""

    stamp: str
    told: Told
    after: tuple[str, ...]
    void: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """All that stands on it."""

    kind: str
    as_of: str
    state: str
    beside: tuple[str, ...]
    next: str
    facts: list[Fact]
    inserts: list[InsertSaid]
    more_inserts: str
    lines: list[LineSaid]
    more_lines: str
    cautions: list[Caution]
    whole_cautions: bool
    check: str
    entries: str
    picture: int


def sheet(of: Any, units: str, room: Room) -> Sheet:
    """The words of a `SheetOf`, in the reader's units, as far as there is room."""
    return _Paper(of, units, room).sheet()


class _Dated(lines.Around):
    """Times of sentences with their date."""

    def when(self, at: datetime) -> str:
        return on_paper(at, self.zone)


class _Paper:
    def __init__(self, of: Any, units: str, room: Room) -> None:
        self.of, self.units, self.room = of, units, room
        self.page, self.tool, self.summary = of.page, of.page.tool, of.page.summary
        self.zone = of.page.shop.zone
        self.around = _Dated(of.page.at, self.zone)

    def sheet(self) -> Sheet:
        inserts, kept = self.page.inside, self.page.history.lines[: self.room.entries]
        count = len(self.page.history.lines) + self.page.history.older
        return Sheet(
            kind=capital(", ".join(filter(None, (term(KINDS, self.tool.kind), self.tool.get_hand_display())))),
            as_of=on_paper(self.page.at, self.zone),
            state=self.state(),
            beside=tuple(filter(None, map(self.cut, self.beside()))),
            next=self.next(),
            facts=sorted(self.facts(), key=lambda fact: fact.wide),
            inserts=[self.insert(one) for one in inserts[: self.room.inserts]],
            more_inserts=_more_inserts(len(inserts) - self.room.inserts),
            lines=[self.line(one) for one in history.shown(kept, self.tool, self.told_around())],
            more_lines=_older(count - len(kept)),
            cautions=[
                *(among_others(about, self.page.surface.family) for about in self.dangers()),
                *self.of.cautions,
            ],
            whole_cautions=self.room.whole,
            check=in_groups(self.summary.head),
            entries=so_many(self.summary.count),
            picture=self.room.picture,
        )

    def cut(self, words: str) -> str:
        return str(Truncator(" ".join(words.split())).chars(self.room.letters))

    def state(self) -> str:
        said = lines.said_of(self.page, self.around, dates=on_paper)
        if said is None:
            return _("Nothing that was written down speaks against its use.")
        return self.cut(said.whole)

    def beside(self) -> Iterator[str]:
        """What holds it, what lies in it, what was told of it, and where it was seen."""
        for hold in self.of.holds[: self.room.holds]:
            yield holds.since_when(hold, on_paper(hold.at, self.zone))
        if (more := len(self.of.holds) - self.room.holds) > 0:
            yield ngettext("… and %(n)d more reason.", "… and %(n)d more reasons.", more) % {"n": more}
        if self.page.in_it:
            yield lines.one_part_with(self.of.halves)
            yield lines.laid_up(self.summary, self.around)
            yield lines.part_in(self.summary, self.tool.kind)
        for entry in self.of.unseen[-2:]:
            said = {"when": on_paper(entry.at, self.zone), "words": entry.payload.get("note") or _("no words")}
            yield _("Told to the lead, %(when)s: %(words)s") % said

    def dangers(self) -> Iterator[str]:
        """What a caution is said of: the work at this kind of tool, and a film where its recipe has one."""
        yield from _CAUTIONS.get(self.tool.kind, ())
        recipe = self.page.surface.recipe
        if recipe is not None and (recipe.film_every_pull or recipe.film_first_pulls):
            yield "film"

    def next(self) -> str:
        """What mends what stands against its use."""
        waits = self.summary.making or self.summary.accept_again
        if not self.tool.has_surface and not waits:
            return ""
        status = self.page.status
        until = on_paper(status.ready_at, self.zone) if status.ready_at is not None else ""
        if waits and status.status not in ("held", "retired"):
            return _("It is finished and accepted.") if self.summary.making else _("It is accepted.")
        return reasons.mend(status.status, status.why, status.need, until)

    def facts(self) -> Iterator[Fact]:
        """No number is ever cut."""
        for name, words, typed in facts_of(self.of, self.units):
            if words:
                said = self.cut(words) if typed else words
                yield Fact(name, said, wide=len(said) > 38)

    def insert(self, one: Any) -> InsertSaid:
        said = sentence(one.status, family=one.family, now=self.page.at, zone=self.zone, dates=on_paper)
        return InsertSaid(one.tool.code, self.cut(one.tool.name), self.cut(said.whole), one.tape)

    def told_around(self) -> Around:
        return Around(
            self.page.at,
            self.zone,
            self.page.history.tools,
            self.page.history.places,
            self.units,
            self.page.history.counts,
            self.page.history.loans,
        )

    def line(self, one: history.Shown) -> LineSaid:
        stamp = on_paper(one.entry.at, self.zone)
        who = one.entry.by.name if one.entry.by is not None else ""
        where = (f"{one.where}.",) if one.where else ()
        return LineSaid(
            stamp=" · ".join(filter(None, (stamp, str(Truncator(who).chars(self.room.letters // 5))))),
            told=Told(one.told.head, (self.cut(" ".join([*one.told.more, *where, *one.flags])),)),
            after=tuple(map(self.cut, self._after(one))),
            void=one.void is not None,
        )

    def _after(self, one: history.Shown) -> Iterator[str]:
        """Written late, corrected, void."""
        if one.late is not None:
            yield _("Written down %(when)s.") % {"when": on_paper(one.late, self.zone)}
        for taken in one.corrections[:1]:
            before = " ".join([f"{taken.before.head}.", *taken.before.more]) if taken.before is not None else ""
            yield _("Corrected %(taken)s Before: %(before)s") % {"taken": self._taken(taken), "before": before}
        if (more := len(one.corrections) - 1) > 0:
            text = ngettext("… and %(n)d correction before it.", "… and %(n)d corrections before it.", more)
            yield text % {"n": more}
        if one.void is not None:
            yield _("Void %(taken)s Not counted.") % {"taken": self._taken(one.void)}

    def _taken(self, taken: history.Taken) -> str:
        by = _("by %(who)s") % {"who": taken.who} if taken.who else ""
        said = " ".join(filter(None, (on_paper(taken.at, self.zone), by)))
        return f"{said}: {taken.why}." if taken.why else f"{said}."


_CAUTIONS = {
    "plug": ("lay_up", "pull", "coats", "sanding"),
    "mold": ("lay_up", "pull", "coats"),
    "insert": ("lay_up", "insert_out", "coats"),
}


def _more_inserts(more: int) -> str:
    if more <= 0:
        return ""
    return ngettext("… and %(n)d more, on the screen.", "… and %(n)d more, on the screen.", more) % {"n": more}


def _older(more: int) -> str:
    if more <= 0:
        return ""
    return ngettext("… and %(n)d older entry, on the screen.", "… and %(n)d older entries, on the screen.", more) % {
        "n": more
    }
