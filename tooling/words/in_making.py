"""Tools in the making in words: the step, what is next and who does it where, what waits for what."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.urls import reverse
from django.utils.dateformat import format as in_format
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _later

from tooling.words.deeds import ACCEPT, COATS, FILM, LAY_UP, PULLED, READING, STEP, TAKE_OFF, Deed
from tooling.words.lines import NOT_KNOWN, Around, Line, about, said_of
from tooling.words.status import Sentence
from tooling.words.when import NEAR_DAYS, Figure

# Where a step that is another entry is written, by that entry.
_LOGGED_ON_IT: dict[str, Deed] = {"sealer": COATS, "coat": COATS, "film": FILM, "reading": READING}
_LOGGED_ON_PLUG: dict[str, Deed] = {"lay_up": LAY_UP, "pull": PULLED}
# Of what is laid up on another tool: the deed there, and how its address names what comes of it.
_LOGGED_ON_ORIGIN: dict[str, tuple[Deed, str]] = {"lay_up": (LAY_UP, "part"), "pull": (TAKE_OFF, "which")}
# From these something else is pulled.
_ORIGINS = frozenset({"plug", "mold"})
# What a step may be logged as, where a lead keeps the list.
LOGGED_AS = {
    "sealer": _later("a coat of sealer"),
    "coat": _later("a release coat"),
    "film": _later("a film"),
    "lay_up": _later("laying up"),
    "pull": _later("taking off"),
    "reading": _later("a reading"),
}


@dataclass(frozen=True, slots=True)
class Logged:
    """The page on which a step is written, of which tool, and what it is told in its address."""

    deed: Deed
    code: str
    told: tuple[tuple[str, str], ...] = ()

    @property
    def address(self) -> str:
        """Of the page."""
        return reverse(self.deed.name, args=[self.code]) + (f"?{urlencode(self.told)}" if self.told else "")


def logged(by_entry: str, tool: Any) -> Logged | None:
    """Where a step is written that is an entry of release or use; None where it is written as a step.

    Laying up and pulling are written of the plug. Where nobody said which that is, they are plain steps.
    """
    if by_entry in _LOGGED_ON_IT:
        return Logged(_LOGGED_ON_IT[by_entry], tool.code)
    if by_entry not in _LOGGED_ON_ORIGIN:
        return None
    if tool.kind == "plug":
        return Logged(_LOGGED_ON_PLUG[by_entry], tool.code)
    if tool.made_from is None or tool.made_from.kind not in _ORIGINS:
        return None
    deed, name = _LOGGED_ON_ORIGIN[by_entry]
    return Logged(deed, tool.made_from.code, ((name, tool.code),))


def comes_next(line: Any) -> str:
    """What is next, as a sentence; nothing where nobody can say."""
    if line.next is not None:
        return _("Next: %(step)s.") % {"step": line.next.name}
    return _("All steps are done: to be accepted.") if line.is_through else ""


def waits_for(one: Any, around: Around) -> list[str]:
    """What it waits for, a sentence each."""
    return [_WHY[why.why](why, around) for why in one.waits_for]


def waits_for_it(one: Any) -> list[str]:
    """The tools and parts that wait for it, a sentence each."""
    said = []
    if one.tools_wait:
        codes = ", ".join(tool.code for tool in one.tools_wait)
        said.append(_("%(what)s for it.") % {"what": _wait(codes, one.tools_wait)})
    if one.parts_wait:
        said.append(_("%(what)s for it.") % {"what": _wait(_parts(one.parts_wait), one.parts_wait)})
    return said


def _wait(what: str, of: tuple[Any, ...]) -> str:
    return (_("%(what)s waits") if len(of) == 1 else _("%(what)s wait")) % {"what": what}


def _parts(parts: Iterable[Any]) -> str:
    named = [_("%(part)s (wanted)") % {"part": one.number} if one.wanted else one.number for one in parts]
    return (_("Part %(numbers)s") if len(named) == 1 else _("Parts %(numbers)s")) % {"numbers": ", ".join(named)}


def _making(why: Any, around: Around) -> str:
    if why.step:
        return _("Waits for %(code)s, which is in the making: %(step)s.") % {"code": why.tool.code, "step": why.step}
    return _("Waits for %(code)s, which is in the making.") % {"code": why.tool.code}


def _lent(why: Any, around: Around) -> str:
    if why.who:
        return _("Waits for %(code)s, which is lent to %(who)s.") % {"code": why.tool.code, "who": why.who}
    return _("Waits for %(code)s, which is lent.") % {"code": why.tool.code}


def _in_use(why: Any, around: Around) -> str:
    if why.who:
        return _("Waits for %(code)s, on which %(part)s lies.") % {"code": why.tool.code, "part": why.who}
    return _("Waits for %(code)s, on which a molding lies.") % {"code": why.tool.code}


def _cures(why: Any, around: Around) -> str:
    said = {"code": why.tool.code}
    if why.until is None:
        return _("On %(code)s, and no time was set for it.") % said
    if why.until <= around.now:
        return _("On %(code)s: time is up, check it is hard.") % said
    return _("On %(code)s, not before %(time)s.") % {**said, "time": around.when(why.until)}


def _held(why: Any, around: Around) -> str:
    return _("Waits for %(code)s, which is held.") % {"code": why.tool.code}


def _lost(why: Any, around: Around) -> str:
    return _("Waits for %(code)s, and nobody knows where that is.") % {"code": why.tool.code}


def _retired(why: Any, around: Around) -> str:
    return _("Waits for %(code)s, which is retired.") % {"code": why.tool.code}


_WHY = {
    "making": _making, "held": _held, "lent": _lent, "lost": _lost, "retired": _retired, "in_use": _in_use,
    "cures": _cures,
}  # fmt: skip


def since(at: datetime | None, around: Around) -> Figure:
    """Since when it is at its step, as a key figure."""
    if at is None:
        return Figure(NOT_KNOWN, _("no step yet"))
    big = around.figure(at, "").big
    if abs((around.now - at).days) > NEAR_DAYS:
        return Figure(big, _("since then"))
    return Figure(big, _("since %(day)s") % {"day": in_format(at.astimezone(around.zone), _("j F"))})


def row(of: Any, around: Around, made: Mapping[int, Any], *, lead: bool = False) -> Line:
    """Its row on the board. made: how far each tool is, by its key; lead: whether a lead reads it."""
    one = made.get(of.tool.pk)
    if one is None:
        said = said_of(of, around) or Sentence("")
        return Line(of, since(of.summary.step_at, around), about(of), of.status.status, said)
    said = said_of(of, around) if of.status.status == "held" else _at_step(one)
    more = (comes_next(one.line), *waits_for(one, around), *waits_for_it(one))
    line = Line(
        of, since(one.since, around), about(of), of.status.status, said or Sentence(""), tuple(filter(None, more)),
        pictures=tuple(one.last_pictures[:1]), likely=False,
    )  # fmt: skip
    if of.status.status == "held":
        return line
    deed, to = next_deed(one, around.now, lead=lead)
    return replace(line, deed=deed, to=to, step=_one_tap(one, around.now) if deed is STEP else "")


def _one_tap(one: Any, now: datetime) -> str:
    """The step that is taken at once; "" where it is no plain step, or where the page says what it waits for."""
    plain = one.line.next is not None and logged(one.line.next.by_entry, one.tool) is None
    return one.line.next.name if plain and not _waits(one, now) else ""


def _waits(one: Any, now: datetime) -> bool:
    return any(why.why != "cures" or (why.until is not None and why.until > now) for why in one.waits_for)


def _at_step(one: Any) -> Sentence:
    return Sentence(one.step or _("No step yet"))


def next_deed(one: Any, now: datetime, *, lead: bool) -> tuple[Deed, str]:
    """What is done next, and on which tool. Only a lead accepts; what waits for its plug is done nothing to there."""
    if one.line.is_through and lead:
        return ACCEPT, one.tool.code
    on = logged(one.line.next.by_entry, one.tool) if one.line.next is not None else None
    if on is None or (_waits(one, now) and on.code != one.tool.code):
        return STEP, one.tool.code
    return on.deed, on.code
