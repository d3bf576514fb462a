"""A line of a tool set as a change of it is kept, the same on every machine, and as a person reads it."""

import re
from dataclasses import dataclass
from itertools import zip_longest

from django.utils.translation import gettext as _

from tooling.models import SetLine, SetRole

# What is kept where a set began with another one: lines are no column of a revision.
FIELD, STARTED = "tool_set", "begun from"
_KEPT = re.compile(
    rf"(?P<role>{'|'.join(SetRole.values)}) (?P<what>.*?)(?:, no\. (?P<order>\d+))?(?P<optional>, optional)?"
    r"(?:, alternative (?P<alternative>.+?))?(?P<open>, not confirmed)?",
    re.DOTALL,
)


def as_kept(line: SetLine) -> str:
    """A line in plain words, as a change of it is stored."""
    more = [
        f"no. {line.order}" if line.order is not None else "",
        "" if line.required else "optional",
        f"alternative {line.alternative}" if line.alternative else "",
        "" if line.confirmed else "not confirmed",
    ]
    return ", ".join(filter(None, (f"{line.role} {line.what}", *more)))


@dataclass(frozen=True, slots=True)
class SetChange:
    """A change in words: what was done, and of a line that stayed what stood there before and stands there now."""

    what: str
    before: str = ""
    after: str = ""


def set_change(before: str, after: str) -> SetChange:
    """What became of a line of a set, from what was kept of it."""
    if after.startswith(f"{STARTED} "):
        return SetChange(_("begun with the set of %(other)s") % {"other": after.removeprefix(f"{STARTED} ")})
    was, now = _KEPT.fullmatch(before), _KEPT.fullmatch(after)
    if was is None or now is None:
        known = was or now
        if known is None:
            return SetChange("", before, after)
        text = _("%(what)s put in") if now is not None else _("%(what)s taken out")
        put = [one for one in _facets(known) if now is not None and one]
        return SetChange(", ".join([text % {"what": known["what"]}, *put]))
    what, facets = now["what"], list(zip_longest(_facets(was), _facets(now)))
    differ = [(_said(one, place), _said(other, place)) for place, (one, other) in enumerate(facets) if one != other]
    if was["open"] and not now["open"] and len(differ) == 1:
        return SetChange(_("%(what)s confirmed") % {"what": what})
    if was["what"] != what:
        differ.insert(0, (was["what"], what))
    return SetChange(what, ", ".join(one for one, _other in differ), ", ".join(other for _one, other in differ))


def _facets(kept: re.Match[str]) -> list[str]:
    """Its number, whether it is optional, its alternatives, whether it is confirmed: "" for what is plain."""
    return [
        _("no. %(n)s") % {"n": kept["order"]} if kept["order"] else "",
        _("optional") if kept["optional"] else "",
        _("one of “%(word)s”") % {"word": kept["alternative"]} if kept["alternative"] else "",
        _("not confirmed") if kept["open"] else "",
    ]


def _said(facet: str, place: int) -> str:
    """A facet that changed; of one that is plain its plain word."""
    return facet or (_("no number"), _("required"), _("no alternative"), _("confirmed"))[place]
