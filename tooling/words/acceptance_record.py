"""The record of an acceptance in words, for paper: every time has its date, and what nobody said is said to be so."""

from dataclasses import dataclass
from typing import Any

from django.utils.text import Truncator
from django.utils.translation import gettext as _

from tooling.words import readings
from tooling.words.counting import capital
from tooling.words.keeping import in_groups, so_many
from tooling.words.looks_answered import answer_said
from tooling.words.plug import Fact
from tooling.words.rights import between
from tooling.words.when import on_paper, plain_day, with_dates

# Letters of a code that the head of every page has room for; the first page has all of them.
_WHOSE = 60


@dataclass(frozen=True, slots=True)
class AnswerSaid:
    """One line of the checklist, what was answered, and in which words."""

    number: int | None
    asked: str
    answer: str
    words: str
    good: bool


@dataclass(frozen=True, slots=True)
class ReadingSaid:
    """What was measured, and with what."""

    what: str
    instrument: str


@dataclass(frozen=True, slots=True)
class AcceptanceSheet:
    """All that stands on it. `whose`: the tool, for the head of every page."""

    whose: str
    as_of: str
    stage: str
    facts: list[Fact]
    checklist: str
    answers: list[AnswerSaid]
    readings: list[ReadingSaid]
    check: str
    entries: str


def acceptance_sheet(of: Any, units: str) -> AcceptanceSheet:
    """The words of what `selectors.acceptance.acceptance_of` gave, in the reader's units."""
    with with_dates():
        return AcceptanceSheet(
            whose=str(Truncator(of.tool.code).chars(_WHOSE)),
            as_of=on_paper(of.at, of.shop.zone),
            stage=_("Accepted %(when)s") % {"when": on_paper(of.entry.at, of.shop.zone)},
            facts=list(_facts(of)),
            checklist=_version(of),
            answers=[*map(_answer, of.look.lines), *_unread(of.look.unread)],
            readings=[_reading(one, of, units) for one in _measured(of.look)],
            check=in_groups(of.tool.summary.head),
            entries=so_many(of.tool.summary.count),
        )


def _facts(of: Any) -> list[Fact]:
    entry, known, nobody = of.entry, of.entry.payload, _("nobody said")
    return [
        Fact(_("Accepted by"), str(entry.by or nobody), strong=True),
        Fact(_("By which right"), _right(of)),
        Fact(_("Written down"), _written(of)),
        Fact(_("Design"), known.get("design_ref") or nobody, strong=True),
        Fact(_("Revision of the design"), known.get("design_revision") or nobody, strong=True),
        Fact(_("In words"), known.get("note") or nobody),
    ]


def _right(of: Any) -> str:
    if of.right is None:
        return _("none of a person was asked: a lead accepts")
    giver = of.right.given_by.name if of.right.given_by is not None else _("an import")
    said = {"days": between(of.right.since, of.right.until), "by": giver}
    return _("to accept a tool, %(days)s, given by %(by)s") % said


def _written(of: Any) -> str:
    said = {"when": on_paper(of.entry.recorded_at, of.shop.zone), "by": of.entry.recorded_by}
    text = _("%(when)s, signed in: %(by)s") if said["by"] is not None else "%(when)s"
    return f"{text % said}. {_('Entry %(number)d of its history.') % {'number': of.entry.number}}"


def _version(of: Any) -> str:
    checklist = of.look.checklist
    if checklist is None:
        return ""
    said = {"version": checklist.version, "day": on_paper(checklist.valid_from, of.shop.zone)}
    return _("Version %(version)d, valid from %(day)s.") % said


def _answer(line: Any) -> AnswerSaid:
    answer, good = answer_said(line)
    asked = line.item.words if line.item is not None else _("a line that this version of the checklist does not have")
    return AnswerSaid(line.number, asked, answer, line.answer.words if line.answer is not None else "", good)


def _unread(text: str) -> list[AnswerSaid]:
    """What an import brought that answers nothing stands there as it is."""
    return [AnswerSaid(None, _("as it was written"), "", text, good=False)] if text else []


def _measured(look: Any) -> list[Any]:
    """Line by line, then what belongs to none."""
    return [*(one for line in look.lines for one in line.readings), *look.readings]


def _reading(entry: Any, of: Any, units: str) -> ReadingSaid:
    known = entry.payload
    until = readings.calibrated_until(known)
    calibrated = _("calibrated until %(day)s") % {"day": plain_day(until)} if until else _("calibration not said")
    name = known.get("instrument") or _("instrument not said")
    further = " ".join(readings.further(known, entry.at, of.at, of.shop.zone))
    return ReadingSaid(capital(readings.said(known, units)), f"{name}, {calibrated}. {further}".strip())
