"""Whether a tool can be made again, and what could not be without its plug: whole sentences."""

from collections.abc import Sequence
from datetime import date, datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.counting import capital
from tooling.words.places import lent
from tooling.words.readings import value
from tooling.words.when import day

# As many codes as a sentence names; the others are counted.
NAMED = 6


def yes(source: str, where: str) -> str:
    """By its record nothing stands against it."""
    said = {"source": source, "where": where}
    return _("By its record it can be made again from %(source)s (%(where)s).") % said


def yes_after(source: str, where: str) -> str:
    """Something has to be done first: reasons follow. `where`: "" where one of these says it."""
    said = {"source": source, "where": where}
    if where:
        return _("It can be made again from %(source)s (%(where)s), but first:") % said
    return _("It can be made again from %(source)s, but first:") % said


def place_taken(codes: Sequence[str]) -> str:
    """It is retired, and others stand in its place: whether these can be made again is said of them."""
    return ngettext("%(codes)s took its place.", "%(codes)s took its place together.", len(codes)) % {
        "codes": named(codes)
    }


def no(source: str) -> str:
    """What it was made from is gone."""
    return _("It cannot be made again as it was: %(source)s, which it was made from, is retired.") % {"source": source}


def unknown() -> str:
    """Nobody has said where it comes from."""
    return _("No plug is written down for it: nobody can say whether it can be made again.")


def milled(design: str) -> str:
    """It was never pulled off anything."""
    text = _("It was milled itself, not pulled off a plug. To make it again it is milled again.")
    return f"{text} {_('Its design: %(design)s.') % {'design': design}}" if design else text


def in_place(source: str, before: str) -> str:
    """Another plug stands for the one that it was made from."""
    return _("%(before)s is retired; %(source)s took its place.") % {"source": source, "before": before}


def outside(source: str, place: str) -> str:
    """It is not in the house."""
    return _("%(source)s is out of the house, at %(place)s: it has to come back.") % {"source": source, "place": place}


def lent_out(source: str, where: Any, today: date) -> str:
    """COAM-PLUG is lent to somebody, not back since Thursday: have it back."""
    until = date.fromisoformat(where.until) if where.until else None
    said = {"source": source, "lent": lent(where.lent_to, until, today)}
    return _("%(source)s is %(lent)s: have it back.") % said


def reading(what: str, first: Any, last: Any, zone: tzinfo, now: datetime) -> str:
    """What was measured on it first and last, without a verdict: no limit of it is known."""
    today = now.astimezone(zone).date()

    def said(one: Any) -> str:
        return f"{value(one.payload)} ({day(one.at.astimezone(zone).date(), today)})"

    name = capital(what)
    if first == last:
        return _("%(what)s: %(value)s, measured once.") % {"what": name, "value": said(last)}
    return _("%(what)s: %(first)s at first, %(last)s last.") % {"what": name, "first": said(first), "last": said(last)}


def named(codes: Sequence[str]) -> str:
    """DECK-1, DECK-2A and 198 more"""
    if len(codes) <= NAMED:
        return ", ".join(codes)
    return _("%(codes)s and %(n)d more") % {"codes": ", ".join(codes[:NAMED]), "n": len(codes) - NAMED}


def lost_tools(codes: Sequence[str], *, gone: bool) -> str:
    """Which molds and mold inserts could not be made again without this one."""
    said = {"codes": named(codes)}
    if gone:
        return _("Since it is retired nothing is left to make again from: %(codes)s.") % said
    return ngettext(
        "If it went, this could not be made again: %(codes)s.",
        "If it went, these could not be made again: %(codes)s.",
        len(codes),
    ) % said  # fmt: skip


def lost_parts(parts: Sequence[str]) -> str:
    """Which parts hang on those molds alone."""
    return ngettext(
        "One part has no mold but from it: %(parts)s.", "Parts that have no mold but from it: %(parts)s.", len(parts)
    ) % {"parts": named(parts)}


def nothing_lost() -> str:
    """All that was made from it has another plug, or nothing was."""
    return _("Nothing in use hangs on it alone.")


def lost(of: Any, *, retired: bool) -> list[str]:
    """All that would be lost with a plug, or is since it was retired: a sentence each."""
    if not of.tools:
        return [nothing_lost()]
    said = [lost_tools([one.code for one in of.tools], gone=retired)]
    said += [lost_parts(of.parts)] if of.parts else []
    return said + [_("%(code)s is in its place, but %(why)s.") % _not_yet(one) for one in of.instead]


def _not_yet(tool: Any) -> dict[str, str]:
    return {"code": tool.code, "why": not_there_yet(tool)}


def not_there_yet(tool: Any) -> str:
    """Why a tool cannot stand for another yet; "" where nothing is known against it."""
    summary = tool.summary
    if summary.making:
        return _("still in the making")
    if summary.accept_again:
        return _("brought back, not accepted yet")
    if summary.held_since is not None:
        return _("held")
    lost = summary.seen_at is not None and summary.seen_place_id is None
    return _("nobody knows where it is") if lost and summary.in_mold_of_id is None and not summary.lent else ""
