"""How a defect is said: what and where it is, how large, and how it went since it was found."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Protocol

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later

from tooling.calc.defect_lines import DefectLine, read_defects
from tooling.words.counting import capital
from tooling.words.limits import stands_said
from tooling.words.sizes import size
from tooling.words.terms import DEFECTS, METHODS, SPOTS, term

# What a look says of a defect that is still open. The word is written with the visit.
AS_IT_WAS, LARGER, SMALLER, GONE = "as_it_was", "larger", "smaller", "gone"
SEEN = {
    AS_IT_WAS: later("as it was"),
    LARGER: later("larger"),
    SMALLER: later("smaller"),
    GONE: later("gone"),
}
DID = {
    "found": later("Found"),
    "seen": later("Looked at"),
    "closed": later("Gone"),
    "opened": later("It came back"),
}
# What closes a defect by the kind of entry; by any other kind it was seen to be gone.
MENDED_BY = {
    "repair": later("Mended by a repair"),
    "polish": later("Mended by polishing"),
    "resurfaced": later("Mended: the surface is new"),
}


class Followed(Protocol):
    """A defect, as much of it as is said here."""

    @property
    def number(self) -> int:
        """Within the tool."""

    @property
    def kind(self) -> str:
        """In the words of the trade."""

    @property
    def where(self) -> str:
        """On what of the tool."""

    @property
    def size_mm(self) -> Decimal | None:
        """Measured last."""

    @property
    def first_mm(self) -> Decimal | None:
        """Measured first."""


def named(one: Followed, units: str) -> str:
    """Defect 3: crack, flange, 12 mm"""
    return _("Defect %(number)d: %(what)s") % {"number": one.number, "what": what(one, units)}


def what(one: Followed, units: str) -> str:
    """crack, flange, 12 mm"""
    long = size(one.size_mm, units) if one.size_mm is not None else ""
    return ", ".join(filter(None, (one.kind, one.where, long)))


def growth(one: Followed, units: str) -> str:
    """How its size went: "18 mm now, 12 mm when it was found."; "" where it was measured at most once."""
    now, first = one.size_mm, one.first_mm
    if now is None or first is None or now == first:
        return ""
    said = {"now": size(now, units), "first": size(first, units)}
    if now > first:
        return _("Larger: %(now)s now, %(first)s at first.") % said
    return _("Smaller: %(now)s now, %(first)s at first.") % said


class Visited(Protocol):
    """One visit to a defect."""

    @property
    def did(self) -> str:
        """What the entry says of it."""

    @property
    def entry(self) -> Any:
        """The entry itself."""

    @property
    def size_mm(self) -> Decimal | None:
        """Measured then."""

    @property
    def words(self) -> str:
        """Said then."""

    @property
    def again(self) -> bool:
        """Whether it was closed already."""


def visit(see: Visited, units: str) -> tuple[str, list[str]]:
    """What was done at a visit, and what was said of the defect then."""
    closed = see.did == "closed"
    head = str(MENDED_BY.get(see.entry.kind, DID["closed"]) if closed else DID[see.did])
    words = _but_gone(see.words) if closed else see.words
    more = [size(see.size_mm, units)] if see.size_mm is not None else []
    more += [words] if words else []
    more += [_("It was mended or gone already by then.")] if see.again else []
    return head, more + (_mended_with(see.entry.payload) if closed else [])


def _mended_with(known: Mapping[str, Any]) -> list[str]:
    """How and with what it was mended, what that stands, and what was said of it."""
    lot, filler = known.get("lot", ""), stands_said(known)
    said = [term(METHODS, known.get("method", "")), known.get("material", "")]
    said += [_("Lot %(lot)s.") % {"lot": lot}] if lot else []
    said += [_("The filler stands %(stands)s.") % {"stands": filler}] if filler else []
    return [str(one) for one in (*said, known.get("note", "")) if one]


def _but_gone(words: str) -> str:
    """What was said besides, where the head says already that it is gone."""
    gone = str(SEEN[GONE])
    return "" if words == gone else words.removeprefix(f"{gone}, ")


def stands(is_open: bool, last: Visited) -> str:
    """Still there. Mended. Gone."""
    if is_open:
        return _("Still there.")
    return _("Mended.") if last.entry.kind in MENDED_BY else _("Gone.")


def last_said(see: Visited, units: str) -> str:
    """Looked at: 18 mm, larger"""
    head, more = visit(see, units)
    return f"{head}: {', '.join(more)}" if more else head


def did_what(line: DefectLine, kind: str) -> str:
    """Defect 3 found. `kind`: that of the entry."""
    return {
        "found": _("Defect %(number)d found"),
        "seen": _("Defect %(number)d looked at"),
        "closed": _("Defect %(number)d mended") if kind in MENDED_BY else _("Defect %(number)d gone"),
        "opened": _("Defect %(number)d came back"),
    }[line.did] % {"number": line.number}


def line_said(line: DefectLine, units: str) -> str:
    """Crack, 12 mm, by the bolt"""
    long = size(line.size_mm, units) if line.size_mm is not None else ""
    kind, place = (term(table, code) for table, code in ((DEFECTS, line.kind), (SPOTS, line.place)))
    words = _but_gone(line.words) if line.did == "closed" else line.words
    return ", ".join(filter(None, (kind, place, long, words)))


def head_of(text: str, kind: str) -> str:
    """What was written of defects alone, as the head of its line in the history."""
    lines = read_defects(text)
    return did_what(lines[0], kind) if len(lines) == 1 else _("Defects")


def in_history(text: str, units: str, kind: str) -> list[str]:
    """What an entry of a kind says of defects, a sentence each. The head of a note says already what was done."""
    lines = read_defects(text)
    if kind == "note" and len(lines) == 1:
        said = line_said(lines[0], units)
        return [f"{capital(said)}."] if said else []
    pairs = ((did_what(line, kind), line_said(line, units)) for line in lines)
    return [f"{did}: {said}." if said else f"{did}." for did, said in pairs]
