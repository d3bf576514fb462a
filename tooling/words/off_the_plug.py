"""What came off a plug or a mold, in words."""

import re
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.counting import capital
from tooling.words.lines import lift as lift_words
from tooling.words.measures import measure
from tooling.words.terms import CAME_OFF, KINDS, term


def about(tool: Any) -> str:
    """Long tender, hull: mold, on the plug, curing"""
    kind, step = term(KINDS, tool.kind), tool.summary.step
    said = {"name": tool.name, "kind": kind, "step": step}
    return (_("%(name)s: %(kind)s, %(step)s") if step else _("%(name)s: %(kind)s, in the making")) % said


def a_new(kind: str) -> str:
    """A new mold"""
    return _("A new %(kind)s") % {"kind": term(KINDS, kind)}


def called_after(source: Any, kind: str) -> str:
    """Long tender, hull plug: Long tender, hull mold. The name that the plug has, with the kind of the new tool."""
    word, own = term(KINDS, kind), term(KINDS, source.kind)
    named = re.sub(rf"\b{re.escape(own)}\b", word, source.name, count=1, flags=re.IGNORECASE)
    return capital(named) if named != source.name or kind == source.kind else f"{source.name}, {word}"


def to_lift(source: Any, off: Any, units: str) -> list[str]:
    """What is known for the lift of what comes off (None: it is new), then of what it comes off, each by its name.

    The one hangs on the hoist, the other stays: a mass that stood by itself would be taken for that of the load.
    """
    return [_heavy(off, off.code if off is not None else _("What comes off"), units), _stays(source, units)]


def _stays(source: Any, units: str) -> str:
    return _heavy(source, _("%(code)s, which stays") % {"code": source.code}, units)


def _heavy(tool: Any, called: str, units: str) -> str:
    mass = tool.mass_kg if tool is not None else None
    said = {
        "what": called,
        "mass": measure(mass, "kg", units, tool.as_typed.get("mass_kg")) if mass is not None else _("not weighed"),
    }
    words = lift_words(tool) if tool is not None else ""
    if words:
        return _("%(what)s: %(mass)s. %(lift)s") % {**said, "lift": words}
    return _("%(what)s: %(mass)s, no words for its lift: ask the lead first.") % said


def taken_off(pull: Any) -> str:
    """Taken off 14-PLUG, light"""
    how = term(CAME_OFF, pull.came_off)
    said = {"source": pull.tool.code, "how": how}
    return (_("Taken off %(source)s, %(how)s") if how else _("Taken off %(source)s")) % said


def taken_back(tool: Any) -> str:
    """What became of a tool that was in the list for a moment."""
    return _("%(tool)s is retired, as taken off by mistake; its code stays its own.") % {"tool": tool.code}


def too_heavy(over: Any, units: str) -> str:
    """Rack B would carry 320 kg then, and its limit is 300 kg."""
    then, limit = (measure(number, "kg", units) for number in (over.kg_then, over.limit_kg))
    said = {"place": over.place.name, "then": then, "limit": limit}
    text = _("%(place)s would carry %(then)s then, and its limit is %(limit)s.") % said
    if over.unweighed:
        text += " " + _("That is without %(n)d that nobody has weighed.") % {"n": over.unweighed}
    return text
