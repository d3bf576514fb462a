"""What is said of a count of a place, and of each tool in it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words import places
from tooling.words.counting import capital, in_words
from tooling.words.seen import seen_here
from tooling.words.when import when

# So many codes a sentence holds.
_NAMED = 6


@dataclass(frozen=True, slots=True)
class Opening:
    """The sentence on top: how it stands, the figure that is read from afar, and the rest."""

    head: str
    figure: str
    rest: str


def opening(page: Any) -> Opening:
    """Being counted: 7 of 10 seen. Three not met yet, one whose home is elsewhere."""
    count = page.count
    head = _("Given up:") if count.given_up else _("Counted:") if count.ended_at else _("Being counted:")
    figure = _("%(met)d of %(expected)d seen.") % {"met": page.met, "expected": page.expected}
    if count.given_up:
        figure = ngettext("%(n)d seen.", "%(n)d seen.", len(page.seen)) % {"n": len(page.seen)}
    clauses = [clause for clause in (_not_met(page), _elsewhere(page), _unknown(page)) if clause]
    return Opening(head, figure, capital(", ".join(clauses)) + "." if clauses else "")


def _not_met(page: Any) -> str:
    n = len(page.not_met)
    if not n:
        return "" if page.count.given_up else _("nothing is missing")
    if page.count.ended_at is not None:
        return ngettext("%(n)s not met", "%(n)s not met", n) % {"n": in_words(n)}
    return ngettext("%(n)s not met yet", "%(n)s not met yet", n) % {"n": in_words(n)}


def _elsewhere(page: Any) -> str:
    n = len(page.elsewhere)
    return (
        ngettext("%(n)s whose home is elsewhere", "%(n)s whose home is elsewhere", n) % {"n": in_words(n)} if n else ""
    )


def _unknown(page: Any) -> str:
    n = len(page.to_settle)
    return ngettext("%(n)s tag that nobody knows", "%(n)s tags that nobody knows", n) % {"n": in_words(n)} if n else ""


@dataclass(frozen=True, slots=True)
class Lines:
    """What each list of the page says: a tool, a sentence, and whether somebody said already that it is not there.

    today: of an ended count how those stand now, and whether they still lie here, away from their home; unseen: those
    of which nobody knows more than then.
    """

    not_met: list[tuple[Any, str, bool]]
    excused: list[tuple[Any, str]]
    elsewhere: list[tuple[Any, str]]
    today: list[tuple[Any, str, bool]]
    unseen: str
    handed_back: list[tuple[Any, str]]
    in_mold: list[tuple[Any, str]]

    @property
    def astray(self) -> bool:
        """Whether something still lies here, away from its home."""
        return any(astray for _summary, _words, astray in self.today)


def lines(page: Any, ended: Mapping[int, Any], now: datetime, zone: tzinfo) -> Lines:
    """The tools that are not met, those that are not missing, those that have their home elsewhere, were lent.

    ended: the loans that were over when a tool was seen, by the key of the entry.
    """
    counted = None if page.count.ended_at is not None else page.count.place
    return Lines(
        [(line.summary, where_seen(line, counted, now, zone), line.missed) for line in page.not_met],
        [(line.summary, not_missing(line, now, zone)) for line in page.excused],
        [(line.summary, its_home(line)) for line in page.elsewhere],
        [
            (line.summary, today(line, now, zone), not (line.fits or line.retired))
            for line in page.today
            if not _lost(line.summary)
        ],
        unseen(sum(_lost(line.summary) for line in page.today)),
        [
            (line.summary, was_lent(ended[line.mark.entry_id]))
            for line in page.seen
            if line.mark is not None and line.mark.entry_id in ended
        ],
        [
            (line.summary, _("By its history it is in %(mold)s.") % {"mold": line.summary.in_mold_of.code})
            for line in page.seen
            if line.summary.in_mold_of is not None and page.count.ended_at is None
        ],
    )


def at_end(page: Any) -> str:
    """What the end of the count says of what was not met: how many, and which, while a sentence holds them."""
    n = len(page.to_miss)
    if not n:
        return _("Nothing is missing.")
    codes = [line.tool.code for line in page.to_miss]
    named = ", ".join(codes[:_NAMED]) + (" …" if n > _NAMED else "")
    text = ngettext(
        "%(n)s was not met and is then “not home”, as the morning board says: %(codes)s",
        "%(n)s were not met and are then “not home”, as the morning board says: %(codes)s",
        n,
    )
    return text % {"n": capital(in_words(n)), "codes": named} + ("" if n > _NAMED else ".")


def where_seen(line: Any, counted: Any, now: datetime, zone: tzinfo) -> str:
    """Of what was not met: where it was last seen, and when. counted: None where the count is ended."""
    summary = line.summary
    if line.missed:
        text = _("Not here, %(when)s.") % {"when": when(line.mark.at, now, zone)}
        return text if counted is None or summary.seen_place is None else f"{text} {_last(summary, counted, now, zone)}"
    if summary.seen_at is None:
        return _("Nobody has seen it yet. Its home is %(place)s.") % {"place": summary.home.name}
    return _last(summary, counted, now, zone)


def _last(summary: Any, counted: Any, now: datetime, zone: tzinfo) -> str:
    said = {"when": when(summary.seen_at, now, zone)}
    if summary.seen_place is None:
        return _("Nobody has known where it is since %(when)s.") % said
    if summary.seen_place_id == counted.pk:
        return _("Last seen here %(when)s.") % said
    return _("Last seen: %(place)s, %(when)s.") % {**said, "place": summary.seen_place.name}


def not_missing(line: Any, now: datetime, zone: tzinfo) -> str:
    """Lent to its owner until Friday: not missing."""
    summary = line.summary
    where = places.lies(summary, now.astimezone(zone).date())
    if not summary.lent and summary.in_mold_of is None:
        where = _("a part is in it, %(place)s") % {"place": where}
    return _("%(where)s: not missing.") % {"where": capital(where)}


def its_home(line: Any) -> str:
    """Where something has its home that was met elsewhere."""
    if line.retired:
        return _("It is retired: not to be used.")
    return _("Home is %(place)s.") % {"place": line.home.name} if line.home is not None else _("It has no home.")


def _lost(summary: Any) -> bool:
    elsewhere = summary.retired or summary.lent or summary.in_mold_of is not None
    return summary.seen_place is None and not elsewhere


def unseen(n: int) -> str:
    """Of how many nobody knows more than at the end of the count."""
    return (
        ngettext("%(n)s was not seen since.", "%(n)s were not seen since.", n) % {"n": capital(in_words(n))}
        if n
        else ""
    )


def today(line: Any, now: datetime, zone: tzinfo) -> str:
    """How something stands by now that a count did not meet, or met away from its home."""
    summary = line.summary
    if summary.retired:
        return its_home(line)
    if summary.lent or summary.in_mold_of is not None:
        return capital(places.lies(summary, now.astimezone(zone).date())) + "."
    said = {"place": summary.seen_place.name, "when": when(summary.seen_at, now, zone)}
    if summary.seen_place_id == summary.home_id:
        return _("It is at home: %(place)s, %(when)s.") % said
    return f"{_('Last seen: %(place)s, %(when)s.') % said} {its_home(line)}"


def written_down(entry: Any, head: str, place: Any, loan: Any) -> str:
    """What the strip of tape says: seen, and the loan that this has ended; or what else was written of the tool."""
    if entry.payload.get("counted") and place is not None:
        return seen_here(entry.tool, place, loan)
    return _("%(tool)s: %(said)s.") % {"tool": entry.tool.code, "said": head}


def was_lent(loan: Any) -> str:
    """Was lent to somebody until Friday: back, since it was seen here."""
    until = loan.payload.get("until")
    said = places.lent(loan.payload.get("person", ""), date.fromisoformat(until) if until else None)
    return _("It was %(lent)s: seen here, it is handed back.") % {"lent": said}


def came_of(one: Any) -> str:
    """7 seen, 2 missing, one tag that nobody knows"""
    n = one.unknown
    missing = ngettext("%(n)d missing", "%(n)d missing", one.missing) % {"n": one.missing} if one.missing else ""
    said = [_("%(n)d seen") % {"n": one.seen}, missing]
    if n:
        said.append(ngettext("%(n)s unknown tag", "%(n)s unknown tags", n) % {"n": in_words(n)})
    return capital(", ".join(words for words in said if words))
