"""Trim masks on the morning board: rows of those whose cut edge is to be checked, and words beside parts in molds."""

from collections.abc import Sequence
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.counting import in_words
from tooling.words.deeds import CHECK_EDGE
from tooling.words.lines import Figure, Line, OnBoard, about
from tooling.words.opening import Clause
from tooling.words.status import Sentence
from trimfixtures.words.standing import stands
from trimfixtures.words.usable import check_wanted

TO_CHECK = gettext_lazy("Check the cut edge")


def to_check(tool: Any, checked: Any, mask: Any) -> Line:
    """How many parts are left until its check, or why one is wanted now."""
    row = OnBoard(tool)
    if checked.wanted:
        key, words = Figure(_("now"), ""), check_wanted(checked.wanted, checked.uses_since)
    else:
        small = ngettext("part, then a check", "parts, then a check", checked.left)
        key, words = Figure(str(checked.left), small), stands(checked, mask)
    wanted = bool(checked.wanted)
    return Line(row, key, about(row), "", Sentence(words.rstrip(".")), deed=CHECK_EDGE, to=tool.code, likely=wanted)


def opening(count: int) -> Clause:
    """In the sentence that opens the board."""
    text = ngettext("%(n)s trim mask is to be checked soon", "%(n)s trim masks are to be checked soon", count)
    return Clause("check", text % {"n": in_words(count)})


def usable(codes: Sequence[str]) -> str:
    """Beside a part in a mold: what cuts it may be used, as far as the record knows."""
    text = ngettext(
        "Its trim mask %(codes)s is usable by its record: look at it before the cut.",
        "Its trim masks %(codes)s are usable by their records: look at them before the cut.",
        len(codes),
    )
    return text % {"codes": ", ".join(codes)}


def to_know(code: str, notes: Sequence[str]) -> str:
    """What does not stop one that is usable."""
    return _("%(code)s: %(notes)s") % {"code": code, "notes": " ".join(notes)}


def not_usable(code: str, why: str) -> str:
    """Why it will not be, when the part comes out."""
    return _("Its trim mask %(code)s is not usable: %(why)s") % {"code": code, "why": why}
