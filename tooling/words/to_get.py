"""A tool to get, in words for paper: what it is, may it be used and why not, its lift, what would do instead."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from tooling.words import lines
from tooling.words.counting import capital
from tooling.words.measures import measure
from tooling.words.status import sentence
from tooling.words.terms import KINDS, term
from tooling.words.tool_set import fine

# What nobody gets: it stays where it is.
LEAVE = frozenset({"held", "retired", "making", "lent"})
# What work on the surface mends, and what only waits or goes in besides.
WORK = frozenset({"needs_strip", "not_prepared", "preparing", "needs_touch_up", "part_count", "needs_film"})
_PUT_IN = frozenset({"insert_missing", "insert_elsewhere"})
_BESIDES = _PUT_IN | {"curing", "film_drying"}


@dataclass(frozen=True, slots=True)
class ToolSaid:
    """A tool to get. `state`: may it be used; `beside`: further sentences, the reasons and what mends them first.

    leave: it is not got at all. near: the part gets near to what it stands.
    """

    code: str
    name: str
    kind: str
    role: str
    place: str
    state: str
    beside: tuple[str, ...]
    lift: str
    heat: str
    near: bool
    leave: bool
    others: tuple[str, ...]
    inside: bool
    picture: Any


class ToolWords:
    """The tools of a `SetSheetOf`, in the reader's units."""

    def __init__(self, of: Any, units: str) -> None:
        self.of, self.units = of, units
        self.codes = {one.tool.code for one in of.tools}
        # What stands against a mold insert stands against its mold as well; what mends it is said once, beside it.
        self.own = {reason.key for one in of.tools for reason in one.now.reasons if reason.tool == one.tool.code}
        # What goes in is said once, behind the work.
        self.goes_in = {f"{code} {one.insert}" for one in of.put_in for code in _PUT_IN}

    def tool(self, one: Any) -> ToolSaid:
        """All that stands beside its box."""
        return ToolSaid(
            code=one.tool.code,
            name=one.tool.name,
            kind=one.tool.kind,
            role=self._role(one),
            place="" if one.place is not None and one.inside is None else capital(one.now.place),
            state=self._state(one),
            beside=tuple(self._reasons(one)),
            lift=" ".join(filter(None, (self._mass(one), lines.lift(one.tool) or str(lines.NO_LIFT)))),
            heat=_heat(one),
            near=one.near,
            leave=not one.now.usable and _first(one).code in LEAVE,
            others=tuple(self._others(one)),
            inside=one.inside is not None and one.inside.code in self.codes,
            picture=one.picture,
        )

    def _role(self, one: Any) -> str:
        """Mold; mold insert, goes in as number 2; trim mask, optional"""
        said = [term(KINDS, one.tool.kind)]
        if len(self.of.inserts) > 1 and one in self.of.inserts:
            said.append(_("goes in as number %(n)d") % {"n": self.of.inserts.index(one) + 1})
        if hand := one.tool.get_hand_display():
            said.append(hand)
        if not one.now.needed:
            said.append(_("optional"))
        return capital(", ".join(map(str, said)))

    def _mass(self, one: Any) -> str:
        """What is lifted: itself, the mold inserts in it, and a part; "" where nobody knows any of it."""
        own, typed = one.tool.mass_kg, one.tool.as_typed.get("mass_kg")
        bare = "" if own is None else str(measure(own, "kg", self.units, typed))
        said = [*filter(None, (bare, self._with_inserts(one)))]
        if said and one.part_in:
            said.append(_("and a part"))
        return _("Mass: %(mass)s.") % {"mass": ", ".join(said)} if said else ""

    def _with_inserts(self, one: Any) -> str:
        masses = [one.tool.mass_kg, *(tool.mass_kg for tool in one.holds)]
        known = [mass for mass in masses if mass is not None]
        if not one.holds or not known:
            return ""
        if known == masses[:1]:
            return _("more with the mold inserts in it")
        total = {"mass": measure(sum(known), "kg", self.units)}
        if len(known) < len(masses):
            return _("at least %(mass)s with the mold inserts in it") % total
        return _("%(mass)s with the mold inserts in it") % total

    def _state(self, one: Any) -> str:
        """Usable, with how it stands; work first; leave it, or not usable, with why."""
        if not one.now.usable:
            first = _first(one)
            if _wants_work(one):
                mend = "" if self._elsewhere(one, first) else first.mend
                return " ".join(filter(None, (_("Get it, work first."), mend)))
            text = _("Leave it. %(why)s") if first.code in LEAVE else _("Not usable. %(why)s")
            return text % {"why": self._about(one, first)}
        if one.status is None:
            return " ".join(filter(None, (_("Usable."), one.now.stands)))
        said = sentence(one.status, family=one.family, now=self.of.at, zone=self.of.shop.zone, kind=one.tool.kind)
        return _("Usable. %(state)s") % {"state": fine(said, one.status.status)}

    def _reasons(self, one: Any) -> Iterator[str]:
        """The reasons and what mends them, as far as the state does not say it, and what only warns."""
        first, work = _first(one), _wants_work(one)
        for reason in one.now.reasons:
            said = "" if reason is first and not work else self._about(one, reason)
            mended = (reason is first and work) or self._elsewhere(one, reason) or reason.key in self.goes_in
            if words := " ".join(filter(None, (said, "" if mended else reason.mend))):
                yield words
            yield from map(str, reason.holds)
        for note in one.now.notes:
            yield self._about(one, note)

    def _elsewhere(self, one: Any, reason: Any) -> bool:
        """Whether what mends it is said beside another tool."""
        return reason.tool != one.tool.code and reason.key in self.own

    def _about(self, one: Any, reason: Any) -> str:
        """A reason of an insert that is in it names that."""
        if reason.tool == one.tool.code:
            return str(reason.text)
        return _("%(tool)s: %(why)s") % {"tool": reason.tool, "why": reason.text}

    def _others(self, one: Any) -> Iterator[str]:
        for other in one.others:
            said = {"code": other.line.what, "place": other.place}
            if other.usable:
                yield _("or %(code)s, %(place)s, usable") % said
            else:
                yield _("or %(code)s, %(place)s, not usable: %(why)s") % {**said, "why": other.reasons[0].text}
        if one.now.why:
            yield one.now.why


def _first(one: Any) -> Any:
    """The reason that decides what is done with it: that nobody gets it, else the work it wants, else the first."""
    reasons = one.now.reasons
    wanted = WORK if _wants_work(one) else LEAVE
    return next((reason for reason in reasons if reason.code in wanted), next(iter(reasons), None))


def _wants_work(one: Any) -> bool:
    """Whether work on a surface is all that it takes."""
    codes = {reason.code for reason in one.now.reasons}
    return bool(codes & WORK) and codes <= WORK | _BESIDES


def _heat(one: Any) -> str:
    """How hot it may get, and by what; that nobody knows is said as well."""
    if one.limit is not None:
        return _("At most %(limit)s: %(source)s.") % {"limit": one.limit.said, "source": one.limit.source}
    return _("How hot it may get is not written down.") if one.tool.has_surface else ""
