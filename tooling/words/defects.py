"""How a defect is said: what and where it is, how large, and how it went since it was found."""

from decimal import Decimal
from typing import Protocol

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as later
from django.utils.translation import ngettext

from tooling.words.counting import capital
from tooling.words.sizes import size

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
