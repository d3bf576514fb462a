"""A tool to get, in words for paper: what it is, may it be used and why not, its lift, what would do instead."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from tooling.words import lines
from tooling.words.counting import capital
from tooling.words.status import sentence
from tooling.words.terms import KINDS, term


@dataclass(frozen=True, slots=True)
class ToolSaid:
    """A tool to get. `state`: may it be used; `beside`: further sentences, the reasons and what mends them first."""

    code: str
    name: str
    kind: str
    role: str
    place: str
    state: str
    beside: tuple[str, ...]
    lift: str
    heat: str
    others: tuple[str, ...]
    inside: bool
    picture: Any


class Picked:
    """The tools of a `SetSheetOf`, in the reader's units."""

    def __init__(self, of: Any, units: str) -> None:
        self.of, self.units = of, units
        self.codes = {one.tool.code for one in of.tools}
        # What stands against a mold insert stands against its mold as well; what mends it is said once, beside it.
        self.own = {reason.key for one in of.tools for reason in one.now.reasons if reason.tool == one.tool.code}

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
            lift=lines.how_to_lift(one.tool, self.units),
            heat=_("At most %(limit)s: %(source)s.") % {"limit": one.limit.said, "source": one.limit.source}
            if one.limit is not None
            else "",
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

    def _state(self, one: Any) -> str:
        """Usable, with how it stands; not usable, with what stops it first."""
        if not one.now.usable:
            first, *_more = one.now.reasons
            return _("Not usable. %(why)s") % {"why": self._about(one, first)}
        if one.status is None:
            return _("Usable.")
        said = sentence(one.status, family=one.family, now=self.of.at, zone=self.of.shop.zone, kind=one.tool.kind)
        return _("Usable. %(state)s") % {"state": said.whole}

    def _reasons(self, one: Any) -> Iterator[str]:
        """What mends the first, the further ones with theirs, and what only warns."""
        for number, reason in enumerate(one.now.reasons):
            elsewhere = reason.tool != one.tool.code and reason.key in self.own
            said = self._about(one, reason) if number else ""
            if words := " ".join(filter(None, (said, "" if elsewhere else reason.mend))):
                yield words
            yield from map(str, reason.holds)
        for note in one.now.notes:
            yield self._about(one, note)

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
