"""Where a tool is, and where it belongs."""

from typing import Any

from django.utils.translation import gettext as _


def lies(summary: Any) -> str:
    """Where it is: in a mold, lent, where it was seen last, else at home; "" where it has none."""
    if summary.in_mold_of is not None:
        return _("in %(mold)s") % {"mold": summary.in_mold_of.code}
    if summary.lent:
        return _("lent to %(person)s") % {"person": summary.lent_to} if summary.lent_to else _("lent")
    if summary.seen_at is not None:
        return summary.seen_place.name if summary.seen_place is not None else _("nobody knows where")
    return summary.home.name if summary.home is not None else ""


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
        lent = _("lent to %(person)s") % {"person": where.lent_to} if where.lent_to else _("lent")
        return _("%(lent)s until %(day)s") % {"lent": lent, "day": where.until} if where.until else lent
    if where.place is not None:
        return str(where.place.name)
    return _("nobody knows where") if where.seen else _("no place is written down")
