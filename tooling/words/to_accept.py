"""Tools that were brought back and wait to be accepted, on the morning board."""

from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.counting import in_words
from tooling.words.deeds import ACCEPT
from tooling.words.lines import NOT_KNOWN, Around, Figure, Line, about
from tooling.words.opening import Clause
from tooling.words.status import Sentence

TO_ACCEPT = gettext_lazy("To be accepted")


def row(of: Any, since: datetime | None, around: Around, *, lead: bool) -> Line:
    """Since when it is back. Only for whoever accepts it has the row its deed."""
    key = around.figure(since, _("brought back")) if since is not None else Figure(NOT_KNOWN, "")
    said = Sentence(_("Looked at and freed, not accepted yet"))
    return Line(of, key, about(of), of.status.status, said, deed=ACCEPT if lead else None, to=of.tool.code)


def opening(count: int) -> Clause:
    """In the sentence that opens the board."""
    text = ngettext("%(n)s tool is to be accepted", "%(n)s tools are to be accepted", count)
    return Clause("accept", text % {"n": in_words(count)})
