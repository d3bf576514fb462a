"""The family of a tool in words: what belongs to it in a few lines, and a row for every tool of the family."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.words.places import lies
from tooling.words.took import so_far

# As many as one line names; all of them stand in the list below.
NAMED = 12
GROUPS: tuple[tuple[str, str | Promise], ...] = (
    ("plug", gettext_lazy("Plugs")),
    ("mold", gettext_lazy("Molds")),
    ("insert", gettext_lazy("Mold inserts")),
    ("trim_mask", gettext_lazy("Trim masks")),
)


@dataclass(frozen=True, slots=True)
class Kinship:
    """One line beside the drawing: what it is, which tools, how many more of them."""

    name: str
    tools: Sequence[Any]
    more: int


@dataclass(frozen=True, slots=True)
class Member:
    """A tool of the family: how it stands, where it comes from, what it made, whether it can be made again.

    took: what it took to make it, "" where nothing was written of that.
    """

    tool: Any
    facts: tuple[str, ...]
    again: Any
    took: str
    is_focus: bool


def beside(family: Any) -> Iterator[Kinship]:
    """What belongs to the tool that the family is asked for."""
    tool, kind = family.tool, family.tool.kind
    same = [one for one in family.made(family.line[-2]) if one != tool] if len(family.line) > 1 else []
    inside = _("Its parts are made in") if kind == "trim_mask" else _("Was in")
    for name, tools in (
        (_("Comes from"), list(reversed(family.line[:-1]))),
        (_("From the same one"), same),
        (_("Made from it"), family.made(tool)),
        (_("Matched set %(set)s") % {"set": tool.matched_set}, family.halves(tool)),
        (_("Mold inserts that were in it"), family.inserts(tool)),
        (inside, family.molds_of(tool)),
        (_("Trim masks of its parts"), family.trim_masks(tool)),
        (_("In the place of"), family.before(tool)),
        (_("Its place was taken by"), family.after(tool)),
    ):
        if tools:
            yield Kinship(name, tools[:NAMED], len(tools) - len(tools[:NAMED]))


def members(family: Any, again: Any, took: Any, units: str) -> list[tuple[str, list[Member]]]:
    """All of them by kind, under a heading; by their keys whether they can be made again, and what each took."""
    kept = {key: so_far(one, units) for key, one in took.items() if one.minutes or one.materials}
    groups = ((str(heading), family.of_kind(kind)) for kind, heading in GROUPS)
    return [
        (heading, [_member(one, family, again, kept.get(one.pk, "")) for one in tools])
        for heading, tools in groups
        if tools
    ]


def _member(tool: Any, family: Any, again: Any, took: str) -> Member:
    facts = [_stands(tool.summary), *_origin(tool, family), _made(tool, family)]
    return Member(tool, tuple(filter(None, facts)), again.get(tool.pk), took, tool == family.tool)


def _stands(summary: Any) -> str:
    """Retired, held, in the making; else where it is."""
    if summary.retired:
        return _("retired")
    said = [lies(summary)]
    if summary.held_since is not None:
        said.insert(0, _("held"))
    if summary.making:
        said.insert(0, _("in the making: %(step)s") % {"step": summary.step} if summary.step else _("in the making"))
    return ", ".join(filter(None, said))


def _origin(tool: Any, family: Any) -> Iterator[str]:
    source, before = (family.tools.get(key) for key in (tool.made_from_id, tool.in_place_of_id))
    if source is not None:
        yield _("from %(source)s") % {"source": source.code}
    if before is not None:
        yield _("in the place of %(before)s") % {"before": before.code}


def _made(tool: Any, family: Any) -> str:
    """How many of each part came off it, or were trimmed against it; with all of its pulls, where these are more."""
    made = family.parts.get(tool.pk, [])
    said = {"all": in_all(tool, made), "parts": ", ".join(parts_made(made, tool.kind))}
    return _("%(all)s, written down as parts: %(parts)s") % said if said["all"] else said["parts"]


def in_all(tool: Any, made: Sequence[Any]) -> str:
    """201 pulls in all; "" where the parts that are written down are all of them."""
    pulls = tool.summary.total_pulls
    if not made or pulls <= sum(one.count for one in made):
        return ""
    return ngettext("%(n)d pull in all", "%(n)d pulls in all", pulls) % {"n": pulls}


def parts_made(parts: Sequence[Any], kind: str, most: int = 4) -> Iterator[str]:
    """27 of 520-DECK"""
    for one in parts[:most]:
        if one.part:
            yield _("%(n)d of %(part)s") % {"n": one.count, "part": one.part}
        elif kind == "trim_mask":
            yield _("%(n)d trimmed, no part named") % {"n": one.count}
        else:
            yield ngettext("%(n)d pull, no part named", "%(n)d pulls, no part named", one.count) % {"n": one.count}
    if len(parts) > most:
        yield ngettext("%(n)d more part", "%(n)d more parts", len(parts) - most) % {"n": len(parts) - most}
