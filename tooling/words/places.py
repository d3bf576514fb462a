"""Where a tool is, and where it belongs."""

import re
from datetime import date
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.when import plain_day, whole_day


def lies(summary: Any, today: date | None = None) -> str:
    """Where it is: in a mold, lent, where it was seen last, else at home; "" where it has none.

    today: the day in the shop; where nobody gives it a loan says its day with the year.
    """
    if summary.in_mold_of is not None:
        return _("in %(mold)s") % {"mold": summary.in_mold_of.code}
    if summary.lent:
        return lent(summary.lent_to, summary.lent_until, today)
    if summary.seen_at is not None:
        return summary.seen_place.name if summary.seen_place is not None else _("nobody knows where")
    return summary.home.name if summary.home is not None else ""


def lent(person: str, until: date | None, today: date | None = None) -> str:
    """lent to somebody until Friday; once that day has passed: lent to somebody, not back since Friday."""
    said = {"person": person, "lent": _("lent to %(person)s") % {"person": person} if person else _("lent")}
    if until is None:
        return said["lent"]
    if today is None:
        return _("%(lent)s until %(day)s") % {**said, "day": plain_day(until)}
    text = _("%(lent)s, not back since %(day)s") if until < today else _("%(lent)s until %(day)s")
    return text % {**said, "day": whole_day(until, today)}


def kind_of(place: Any) -> str:
    """What a place is; "" where nobody said, or its name or code says it already."""
    kind = str(place.get_kind_display()) if place.kind else ""
    said, word = (_plain(text) for text in (f"{place.name} {place.code}", kind))
    return "" if f" {word} " in f" {said} " else kind


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[\W_]+", " ", text.casefold()).split())


def not_back(summary: Any, today: date) -> bool:
    """Whether it is lent, and the day until when has passed."""
    return bool(summary.lent) and summary.lent_until is not None and summary.lent_until < today


def belongs(summary: Any) -> str:
    """Its home, where it is not there: home: Rack B, shelf 1"""
    home, seen = summary.home, summary.seen_place
    there = summary.in_mold_of is None and (summary.seen_at is None or (seen is not None and home == seen))
    return "" if home is None or there else _("home: %(place)s") % {"place": home.name}


def found_at(where: Any) -> str:
    """Where a tool is, never empty: in DECK-2A, lent to somebody until a day, a place by its name."""
    if where.mold is not None:
        return _("in %(mold)s") % {"mold": where.mold.code}
    if where.lent:
        return lent(where.lent_to, date.fromisoformat(where.until) if where.until else None)
    if where.place is not None:
        return str(where.place.name)
    return _("nobody knows where") if where.seen else _("no place is written down")
