"""How a defect is said: what and where it is, how large, and how it went since it was found."""

from decimal import Decimal
from typing import Any, Protocol

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later
from django.utils.translation import ngettext

from tooling.calc.defect_lines import DefectLine, read_defects
from tooling.words.counting import capital
from tooling.words.sizes import size
from tooling.words.terms import DEFECTS, PLACES, term

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
    "closed": later("Closed"),
    "opened": later("It came back"),
}
_CLOSED_BY = {
    "repair": later("Closed by a repair"),
    "polish": later("Closed by polishing"),
    "resurfaced": later("Closed: the surface is new"),
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


def open_said(count: int) -> str:
    """One open defect; 3 open defects"""
    return capital(ngettext("one open defect", "%(count)d open defects", count) % {"count": count})


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
    head = str(_CLOSED_BY.get(see.entry.kind, DID["closed"]) if see.did == "closed" else DID[see.did])
    more = [size(see.size_mm, units)] if see.size_mm is not None else []
    more += [see.words] if see.words else []
    more += [_("It was closed already by then.")] if see.again else []
    note, method = (see.entry.payload.get(name, "") for name in ("note", "method"))
    return head, more + [one for one in (method, note) if one and see.did == "closed"]


def last_said(see: Visited, units: str) -> str:
    """Looked at: 18 mm, larger"""
    head, more = visit(see, units)
    return f"{head}: {', '.join(more)}" if more else head


def did_what(line: DefectLine) -> str:
    """Defect 3 found"""
    return {
        "found": _("Defect %(number)d found"),
        "seen": _("Defect %(number)d looked at"),
        "closed": _("Defect %(number)d closed"),
        "opened": _("Defect %(number)d came back"),
    }[line.did] % {"number": line.number}


def line_said(line: DefectLine, units: str) -> str:
    """Crack, 12 mm, by the bolt"""
    long = size(line.size_mm, units) if line.size_mm is not None else ""
    kind, place = (term(table, code) for table, code in ((DEFECTS, line.kind), (PLACES, line.place)))
    return ", ".join(filter(None, (kind, place, long, line.words)))


def head_of(text: str) -> str:
    """What was written of defects alone, as the head of its line in the history."""
    lines = read_defects(text)
    return did_what(lines[0]) if len(lines) == 1 else _("Defects")


def in_history(text: str, units: str, *, headed: bool = False) -> list[str]:
    """What an entry says of defects, a sentence each. `headed`: the head of its line says already what was done."""
    lines = read_defects(text)
    if headed and len(lines) == 1:
        said = line_said(lines[0], units)
        return [f"{capital(said)}."] if said else []
    pairs = ((did_what(line), line_said(line, units)) for line in lines)
    return [f"{did}: {said}." if said else f"{did}." for did, said in pairs]
