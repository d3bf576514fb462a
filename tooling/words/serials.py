"""What is said of a serial number: which tools made it, how they stood, what stood around it, what was thought."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.calc.entry import HARD
from tooling.calc.status import WITH_PULLS_LEFT
from tooling.words.counting import capital, pulls
from tooling.words.family import then_a_coat
from tooling.words.holds import quote, what
from tooling.words.reasons import reasons
from tooling.words.status import Sentence, sentence
from tooling.words.terms import CAME_OFF, term
from tooling.words.when import dated, lasting, moment


@dataclass(frozen=True, slots=True)
class Said:
    """When and in which zone it is read, and the story whose entries are told of."""

    now: datetime
    zone: tzinfo
    story: Any

    def when(self, at: datetime) -> str:
        """A time of the history."""
        return moment(at, self.now, self.zone)

    def by(self, fact: Any) -> str:
        """Tue 5 May 16:30, Mara; and who wrote it down, where that was somebody else."""
        entry = self.story.entry(fact)
        said = [self.when(entry.at)]
        said += [entry.by.name] if entry.by is not None else []
        if entry.recorded_by is not None and entry.recorded_by_id != entry.by_id:
            said.append(_("written down by %(name)s") % {"name": entry.recorded_by.name})
        return ", ".join(said)


def from_tools(tools: list[Any]) -> str:
    """from DECK-2A; from 12.PORT and 12.STBD"""
    codes = [tool.code for tool in tools]
    if len(codes) < 2:
        return _("from %(tool)s") % {"tool": codes[0]} if codes else _("from nobody knows which tool")
    said = {"tools": ", ".join(codes[:-1]), "last": codes[-1]}
    return _("from %(tools)s and %(last)s") % said


def offered(named: Any) -> str:
    """Serial 0173: SK520-DECK from DECK-2A"""
    said = {"serial": named.number, "part": named.part, "made": from_tools(named.makers)}
    return _("Serial %(serial)s: %(part)s %(made)s") % said if named.part else _("Serial %(serial)s: %(made)s") % said


def outcome(making: Any, said: Said) -> str:
    """What became of the part, in one sentence."""
    if making.end is None:
        if making.over:
            return _("Nobody wrote what became of it: another part was laid up over it.")
        if said.story.known_at is None:
            return _("No pull of it is written down: by the record it is still in the mold.")
        return _("No pull of it was written down: by the record it was still in the mold.")
    entry = said.story.entry(making.end)
    if entry.kind == "abandoned":
        return _("The lay-up was given up, %(when)s.") % {"when": said.by(making.end[2])}
    how = {"how": came_off(entry.came_off), "when": said.by(making.end[2])}
    return _("Pulled, %(how)s: %(when)s.") % how if entry.came_off else _("Pulled: %(when)s.") % how


def came_off(word: str) -> str:
    """free; tight, a hard pull"""
    how = term(CAME_OFF, word)
    return _("%(how)s, a hard pull") % {"how": how} if word in HARD else how


def stood(before: Any, kind: str, zone: tzinfo) -> Sentence:
    """How a surface stood by what was written down, as the board of that moment would have said it."""
    if before.status.status == "ready":
        left = {"pulls": pulls(before.status.pulls_left), "then": then_a_coat(before.family)}
        return Sentence(_("By the count"), _("%(pulls)s left, %(then)s") % left)
    return sentence(before.status, family=before.family, now=before.at, zone=zone, kind=kind, dates=dated)


def stood_at_pull(before: Any, kind: str, zone: tzinfo) -> str:
    """Whether the coat had pulls left when the part came off. Cure and film were asked at the lay-up."""
    if before.status.status in WITH_PULLS_LEFT:
        return _("By the count the coat had pulls left.")
    return stood(before, kind, zone).whole


def counted(surface: Any) -> str:
    """The pulls since the coat when the part came in, and those past what the coat allows."""
    first = surface.at_lay_up or surface.at_pull
    if first is None:
        return ""
    since, past = first.status.since_coat, first.status.pulls_past
    text = capital(_("%(pulls)s between the coat and this one.") % {"pulls": pulls(since)}) if since else _first_pull()
    if not past:
        return text
    more = ngettext("%(n)d pull past what the coat allows.", "%(n)d pulls past what the coat allows.", past)
    return f"{text} {more % {'n': past}}"


def _first_pull() -> str:
    return _("No pull between the coat and this one.")


def coats_said(surface: Any, said: Said) -> Iterator[str]:
    """The coats that were on it, each with its recipe and lot, and the film."""
    system = (surface.at_lay_up or surface.at_pull).system if surface.at_lay_up or surface.at_pull else ""
    for fact in surface.on.coats:
        yield _put_on(_("Coat"), fact, said, fact.release_system or system)
    if surface.on.film is not None:
        yield _put_on(_("Film"), surface.on.film, said, "")
    if not surface.on.coats:
        yield _("No coat of it is written down.")


def _put_on(what_: str, fact: Any, said: Said, system: str) -> str:
    lot = said.story.entry(fact).payload.get("lot")
    words = [said.by(fact), system, _("lot %(lot)s") % {"lot": lot} if lot else _("no lot said")]
    return _("%(what)s: %(words)s.") % {"what": what_, "words": ", ".join(one for one in words if one)}


def age(surface: Any) -> str:
    """How old the last coat was when the part was laid up."""
    before, coats = surface.at_lay_up or surface.at_pull, surface.on.coats
    if before is None or not coats:
        return ""
    return _("The coat was %(old)s old.") % {"old": lasting(before.at - coats[-1].at)}


def around_said(around: Any, said: Said) -> list[str]:
    """Look-overs before and after, holds and hard pulls near, one sentence each.

    That nobody looked is said of a mold; of a mold insert, which is looked at with its mold, only what was written.
    """
    found = [*_looked_before(around, said), *_holds(around, said)]
    if around.tool.kind != "insert":
        found += _hard(around, said)
    return [*found, *_looked_after(around, said)]


def _looked_before(around: Any, said: Said) -> Iterator[str]:
    mask = around.tool.kind == "trim_mask"
    if around.looked_before is not None:
        text = _("Found true before: %(when)s.") if mask else _("Looked at before and passed: %(when)s.")
        yield text % {"when": said.by(around.looked_before)}
    elif mask:
        yield _("No check of it before is written down.")
    elif around.tool.kind != "insert":
        yield _("Nobody had looked it over before, as far as is written down.")


def _holds(around: Any, said: Said) -> Iterator[str]:
    for one in around.open:
        yield _("It was held then already, since %(when)s: %(why)s.") % _why(one, said)
    for one in around.opened:
        if one.pulls:
            said_of = {"pulls": pulls(one.pulls), **_why(one, said)}
            yield _("Held %(pulls)s later, %(when)s: %(why)s.") % said_of
        else:
            yield _("Held with it, %(when)s: %(why)s.") % _why(one, said)


def _why(one: Any, said: Said) -> dict[str, str]:
    entry = said.story.entry(one.entry)
    words = quote(entry) if entry.kind == "hold" else ""
    return {"when": said.by(one.entry), "why": words or ", ".join(what(entry)) or reasons("held", [one.reason])[0]}


def _hard(around: Any, said: Said) -> Iterator[str]:
    for one in around.hard:
        entry = said.story.entry(one.entry)
        words = {"how": term(CAME_OFF, entry.came_off), "pulls": pulls(abs(one.pulls)), "when": said.by(one.entry)}
        words["serial"] = _(", serial %(serial)s") % {"serial": entry.serial} if entry.serial else ""
        text = _("A hard pull %(pulls)s before%(serial)s: %(how)s, %(when)s.")
        later = _("A hard pull %(pulls)s later%(serial)s: %(how)s, %(when)s.")
        yield (text if one.pulls < 0 else later) % words


def _looked_after(around: Any, said: Said) -> Iterator[str]:
    one, mask = around.looked_after, around.tool.kind == "trim_mask"
    if one is None:
        if around.tool.kind != "insert":
            yield _("No check of it since is written down.") if mask else _("Nobody has looked at it since.")
        return
    words = {"when": said.by(one.entry), "pulls": pulls(one.pulls)}
    passed = said.story.entry(one.entry).payload.get("passed")
    if mask:
        text = _("Checked next, and true: %(when)s.") if passed else _("Checked next, and not true: %(when)s.")
    elif one.pulls:
        later = _("Looked at %(pulls)s later and passed: %(when)s.")
        text = later if passed else _("Looked at %(pulls)s later, and it did not pass: %(when)s.")
    else:
        next_ = _("Looked at next and passed: %(when)s.")
        text = next_ if passed else _("Looked at next, and it did not pass: %(when)s.")
    yield text % words
