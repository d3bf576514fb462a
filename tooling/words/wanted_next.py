"""When the next of a wanted part can be laid up, and what to do for it, in words."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from itertools import product
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.counting import capital
from tooling.words.deeds import COATS, FILM, INSTALLED, LAY_UP, PULLED, STRIP, Deed, put_in
from tooling.words.lay_up_from import sentence

# A mold insert that lies on the bench, or in another mold.
_PUT_IN = ("insert_missing", "insert_elsewhere")
_OF_STEP = {"strip": STRIP, "sealer": COATS, "coat": COATS, "film": FILM}


@dataclass(frozen=True, slots=True)
class Step:
    """What comes next for a part: a deed on `to`, the code of a tool; no deed: to look at the part's tool set.

    address: where it is done, if that is no page of the tool's.
    """

    deed: Deed | None = None
    to: str = ""
    address: str = ""

    @property
    def word(self) -> str:
        """What its link says; whom it is about stands behind it (`about`), where it does not say that itself."""
        return put_in(self.to) if self.deed == INSTALLED else str(self.deed.word) if self.deed is not None else ""

    @property
    def about(self) -> str:
        """The code of a tool; "" where the word says it."""
        return "" if self.deed == INSTALLED else self.to


def state(one: Any, now: datetime, zone: tzinfo) -> str:
    """When the next of it can be laid up, or why not; "" where all are laid up."""
    if not one.on.progress.missing:
        return ""
    if one.on.revision is None:
        return _("Nobody has written this part down with a revision.")
    if one.found is None:
        return ""
    follows = [_("%(part)s comes first in this mold.") % {"part": one.follows}] if one.follows else []
    return " ".join([_when(one, now, zone), *follows, *one.found.besides])


def _when(one: Any, now: datetime, zone: tzinfo) -> str:
    if not one.found.now or one.found.cannot is not None:
        return capital(sentence(one.found, now, zone)).rstrip(".") + "."
    molds = one.answer.needed("mold")
    codes = {"molds": ", ".join(line.line.what for line in molds)}
    if any(line.pulls_left == 1 for line in molds):
        return _("By the record it can be laid up now: last pull of %(molds)s.") % codes
    return _("By the record it can be laid up now, in %(molds)s.") % codes


def next_step(one: Any) -> Step | None:
    """The next deed for it: to lay it up, the first work on its tools, what mends a reason, or the pull of the last."""
    if one.on.is_done:
        return None
    if not one.on.progress.missing:
        return Step(PULLED, one.on.progress.inside[0]) if one.on.progress.inside else None
    if one.found is None:
        return Step()
    if one.found.cannot is not None:
        return _mends(one, [one.found.cannot.code])
    at_work = sorted((work for work in one.found.works if work.steps), key=lambda work: work.steps[0].starts)
    inside = [work for work in one.found.works if work.out_at is not None]
    for first in (at_work or inside)[:1]:
        deed = PULLED if first.out_at is not None else _OF_STEP[first.steps[0].name]
        return Step(deed, first.tool.code)
    # The shop may be closed: all the same nothing is missing.
    if one.found.ready_at is None or one.found.ready_at > one.found.at:
        return Step()
    if one.found.put_in:
        return _mends(one, _PUT_IN)
    return Step(LAY_UP, next(line.line.what for line in one.answer.lines if line.offered and line.role == "mold"))


def _mends(one: Any, codes: Sequence[str]) -> Step:
    """What mends the reason, where a deed does: the first of these that stands."""
    for code, line in product(codes, one.answer.needed()):
        for reason in (reason for reason in line.reasons if reason.code == code and reason.address):
            return Step(reason.deed, reason.tool if reason.of_tool else "", reason.address)
    return Step()
