"""Parts in doubt, in words: why they are, how many were looked at, and each of them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.holds import since
from tooling.words.lots import LAST, UNDER, by_coat
from tooling.words.made import became, laid_up, when_by, without
from tooling.words.when import moment


@dataclass(frozen=True, slots=True)
class Line:
    """One part in doubt: what was written of it, half by half, and what somebody found.

    halves: the code of each, "" where there is one alone, when it was laid up and what became of it. head: what it and
    those behind it have in common, of the first of them.
    """

    one: Any
    halves: list[tuple[str, str, str]]
    without: str
    met: list[tuple[str, str]]
    met_as: str
    after: str
    found: str
    head: str = ""


def lines(those: Iterable[Any], asked: Any, now: datetime) -> Iterator[Line]:
    """The rows of some parts; of a lot that others went over, those under later coats with a head of their own."""
    heads = dict(by_coat(asked))
    for under, group in groupby(those, key=lambda one: one.under):
        for place, one in enumerate(group):
            yield line(one, asked, now, heads.get(UNDER if under else LAST, "") if not place else "")


def line(one: Any, asked: Any, now: datetime, head: str = "") -> Line:
    """A part as its row says it."""
    return Line(
        one,
        [
            (part.tool.code if len(one.parts) > 1 else "", laid_up(part, asked, now), became(part, asked, now))
            for part in one.parts
        ],
        without(one.first) if not one.number else "",
        [(met.tool.code, moment(met.at, now, asked.zone)) for met in one.met],
        _("Out of") if one.is_cut else _("Cut against"),
        _("While it was stopped.") if one.after else "",
        found(one, asked, now),
        head,
    )


def found(one: Any, asked: Any, now: datetime) -> str:
    """Looked at, good: today 14:10, Jonas; “tapped all over”. With what was found before that."""
    if one.mark is None:
        return ""
    return " ".join([_found(one.mark, asked, now), before(one, asked, now)]).rstrip()


def before(one: Any, asked: Any, now: datetime) -> str:
    """What was found earlier, and stands no more."""
    return " ".join(_("Before that: %(found)s") % {"found": _found(mark, asked, now)} for mark in one.before)


def _found(mark: Any, asked: Any, now: datetime) -> str:
    when = when_by(mark.at, mark.by.name if mark.by else None, now, asked.zone)
    text = (_("Good: %(when)s.") if mark.found == "good" else _("Not good: %(when)s.")) % {"when": when}
    return f"{text} “{mark.words}”" if mark.words else text


def looked_at(asked: Any) -> str:
    """12 of 20 looked at, 1 of them not good."""
    if not asked.count:
        return _("By what was written down no part is in doubt.")
    said = {"n": asked.looked_at, "count": asked.count, "bad": asked.not_good}
    return _looked_at(asked) % said


def _looked_at(asked: Any) -> str:
    if not asked.looked_at:
        return ngettext(
            "%(count)d part is in doubt; nobody has looked at it yet.",
            "%(count)d parts are in doubt; nobody has looked at one of them yet.",
            asked.count,
        )
    if asked.not_good:
        return _("%(n)d of %(count)d looked at, %(bad)d of them not good.")
    return _("%(n)d of %(count)d looked at, all of these good.")


def of_these(shown: Any) -> str:
    """12 of 74 looked at, of those of one kind."""
    if shown.count and not shown.looked_at:
        return ngettext("Nobody has looked at it yet.", "Nobody has looked at one of these %(n)d yet.", shown.count) % {
            "n": shown.count
        }
    return looked_at(shown) if shown.count else ""


def why(asked: Any, now: datetime) -> Iterator[str]:
    """What put them in doubt, from when on, and what the record cannot say."""
    doubt = asked.doubt
    if doubt is None:
        return
    tool, zone = doubt.tool, asked.zone
    yield _stopped(doubt, now, zone)
    if not doubt.stands:
        yield _("That entry is void or corrected: as far as is known now, it puts nothing in doubt.")
    if doubt.tool.pk != doubt.entry.tool_id:
        said = {"insert": tool.code, "mold": doubt.entry.tool.code}
        yield _("Asked for %(insert)s, by what was written of %(mold)s.") % said
    (span,) = asked.spans
    yield _since(span, asked, now)
    if span.before:
        text = ngettext(
            "%(n)d pull before that was counted and never written down one by one: nobody can list it here.",
            "%(n)d pulls before that were counted and never written down one by one: nobody can list them here.",
            span.before,
        )
        yield text % {"n": span.before}
    yield from _after(asked, span, now)
    if asked.unsaid:
        codes = ", ".join(one.code for one in asked.unsaid)
        yield _("Said to come from it, and no pull says when: %(tools)s.") % {"tools": codes}


def _stopped(doubt: Any, now: datetime, zone: Any) -> str:
    if doubt.entry.kind == "check":
        said = {"when": moment(doubt.entry.at, now, zone), "by": doubt.entry.by}
        text = _("A check failed %(when)s, by %(by)s.") if doubt.entry.by else _("A check failed %(when)s.")
        return text % said
    return since(doubt.entry, now, zone)


def _since(span: Any, asked: Any, now: datetime) -> str:
    placed = span.stretch.since
    if placed is None:
        return _("Nobody ever looked at it and passed it: all that is written of it is in doubt, from the beginning.")
    fact = placed[2]
    said = {"when": when_by(placed[0], asked.people.get(fact.by), now, asked.zone)}
    if fact.kind == "accepted":
        return _("Nobody looked at it since it was accepted: %(when)s.") % said
    if fact.kind == "check":
        return _("The last check before that was passed: %(when)s.") % said
    return _("Looked at before that and passed: %(when)s.") % said


def _after(asked: Any, span: Any, now: datetime) -> Iterator[str]:
    if asked.after:
        text = ngettext(
            "%(n)d of them was begun when it was stopped already.",
            "%(n)d of them were begun when it was stopped already.",
            asked.after,
        )
        yield text % {"n": asked.after}
    if span.stretch.until is not None:
        yield _("Looked at and passed after it: %(when)s.") % {"when": moment(span.stretch.until[0], now, asked.zone)}
    else:
        yield _("Nobody has looked at it and passed it since.")


def title(asked: Any) -> str:
    """What the sheet is called."""
    if asked.doubt is None:
        return _("Parts made with lot %(lot)s") % {"lot": asked.lot}
    said = {"tool": asked.doubt.tool.code}
    if asked.doubt.tool.kind == "trim_mask":
        return _("Parts cut against %(tool)s since it was good") % said
    return _("Parts made with %(tool)s since it was last good") % said


def caution() -> str:
    """What the sheet does not say, and what looking at parts needs."""
    return _(
        "By what was written down. It does not decide whether a part is fit, nor does a mark on it: where that is "
        "safety-critical the licensed person decides. Edges of trimmed laminate cut: gloves."
    )
