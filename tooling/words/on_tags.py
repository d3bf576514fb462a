"""What stands on tags: a tool's, a place's, and the one that hangs on a tool while it is held."""

import math
from datetime import datetime, tzinfo
from decimal import Decimal
from typing import Any

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.units import from_si, unit_of
from tooling.drawing.tags.facts import HeldTag, Piece, Reason
from tooling.words.counting import capital
from tooling.words.family import coat_stuff
from tooling.words.holds import quote
from tooling.words.holds import what as what_it_was
from tooling.words.measures import Measure, measure
from tooling.words.own import quoted
from tooling.words.terms import KINDS, term

# An ordinary blank between number and unit would let a line end there.
_JOIN = "\N{NO-BREAK SPACE}"


def kind(of: str, hand: str) -> Piece:
    """Left-hand mold"""
    sided = {"L": _("left-hand %(kind)s"), "R": _("right-hand %(kind)s")}.get(hand, "%(kind)s")
    return Piece("kind", "", capital(sided % {"kind": term(KINDS, of)}))


def retired() -> Piece:
    """Across a tool that is kept for its history."""
    return Piece("retired", _("Retired: not to be used"))


def home(name: str, code: str) -> list[Piece]:
    """Home: Rack A, floor · A-0"""
    return [Piece("home", name, _("home")), Piece("home_code", "", code)]


def owner(name: str, reference: str) -> list[Piece]:
    """Owner: a customer · ref. C-12"""
    said = [Piece("owner", name, _("Owner:"))] if name.strip() else []
    if reference.strip():
        said.append(Piece("owner_ref", "", _("ref. %(number)s") % {"number": reference}))
    return said


def matched_set(name: str) -> Piece:
    """Matched set TENDER-240"""
    return Piece("matched_set", name, _("Matched set"))


def hottest(celsius: Decimal, system: str) -> Piece:
    """Heat it to at most 60 °C"""
    return Piece("hottest", limit(celsius, "°C", system), _("Heat it to at most"))


def weight(kilograms: Decimal, system: str, as_typed: Any) -> Piece:
    """64 kg"""
    return Piece("mass", "", about(measure(kilograms, "kg", system, as_typed)))


def lift(words: str) -> Piece:
    """Lift: trolley and two"""
    said = _("Lift: %(words)s") % {"words": words}
    return Piece("lift", said, instead=_("Lift: scan, and read it first"))


def no_lift() -> Piece:
    """What stands there where nobody has said how it is lifted: silence would be read as light."""
    return Piece("no_lift", _("Lift: ask the lead"))


def within(name: str) -> Piece:
    """In Rack B"""
    return Piece("within", name, _("In"))


def height(millimetres: Decimal, system: str, as_typed: Any) -> Piece:
    """Height 1,200 mm"""
    return Piece("height", about(measure(millimetres, "mm", system, as_typed)), _("Height"))


def load(kilograms: Decimal, system: str) -> str:
    """At most 150 kg"""
    return _("At most %(load)s") % {"load": limit(kilograms, "kg", system)}


def no_load() -> str:
    """What stands over the board of a shelf whose load nobody has said: an empty board would be read as any load."""
    return _("Load not known: ask the lead")


def limit(number: Decimal, si: str, system: str) -> str:
    """What must not be passed: where it does not come out whole it is rounded down."""
    said = measure(number, si, system)
    if not said.whole:
        unit = unit_of(si, system)
        said = Measure(str(math.floor(from_si(number, unit))), unit.symbol)
    return f"{said.text}{_JOIN}{said.unit}"


def about(said: Measure) -> str:
    """About 141 lb, in letters that the font of paper has."""
    text = f"{said.text}{_JOIN}{said.unit}"
    return text if said.whole else _("about %(measure)s") % {"measure": text}


def caution(of: str, family: str, *, film: bool = False) -> str:
    """The one plain line at the foot of a tool's tag; `film`: its recipe has a film of PVA on it."""
    if of == "trim_mask":
        return _(
            "Cutter, dust: eyes, ears, respirator, extraction. No gloves at a turning cutter. Clamp; feed against "
            "the turn. See the data sheet."
        )
    stuff = coat_stuff(family).lower()
    said = {"stuff": _("%(stuff)s, PVA") % {"stuff": stuff} if film else stuff}
    if of == "plug":
        text = _(
            "Resin, hardener, %(stuff)s, solvent, dust: no flame, ventilation, respirator, gloves, eyes, skin. See the "
            "data sheet."
        )
        return text % said
    text = _(
        "Resin, hardener, %(stuff)s, solvent: no flame, ventilation, gloves, eyes, skin. Parts pop. See the data sheet."
    )
    return text % said


def pulls(family: str) -> str:
    """What the empty gates count, in the word of the recipe's family."""
    return {"paste_wax": _("pulls since wax"), "semi_permanent": _("pulls since release")}.get(family, _("pulls"))


def held(code: str, name: str, reasons: list[Reason], *, formal: bool) -> HeldTag:
    """The whole held tag of a tool."""
    return HeldTag(
        code,
        _("Held: do not use"),
        tuple(reasons),
        comes_off(formal),
        why=_("Why"),
        since=_("Since"),
        by=_("by"),
        more=tuple(more_reasons(count + 1) for count in range(len(reasons) - 1)),
        name=name,
    )


def reason(hold: Any, zone: tzinfo) -> Reason:
    """Why, since when and by whom one entry holds a tool; on paper a day has its year."""
    # What is worst comes first: on small stock the end is cut.
    what, words = capital(", ".join(reversed(what_it_was(hold)))), quote(hold)
    why = f"{what}: {words}" if what and words else what or words or _("Stopped")
    return Reason(why, since(hold.at, zone), str(hold.by or ""))


def noted(words: str, at: datetime, by: Any, zone: tzinfo) -> Reason:
    """The same of a tool whose entries do not say why any more."""
    return Reason(quoted(words) if words else _("Stopped"), since(at, zone), str(by or ""))


def since(at: datetime, zone: tzinfo) -> str:
    """Mon 11 May 2026, 16:50"""
    return in_format(at.astimezone(zone), _("D j M Y, H:i"))


def comes_off(formal: bool) -> str:
    """Who may take a held tag off, as the shop keeps its records."""
    if formal:
        return _("Comes off when someone else has looked at it and freed it.")
    return _("Comes off when someone has looked at it and freed it.")


def more_reasons(count: int) -> str:
    """How reasons are said that have no room."""
    return ngettext("and %(n)d reason more: scan", "and %(n)d reasons more: scan", count) % {"n": count}
