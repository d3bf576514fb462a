"""The tool set of a part's revision at a moment: may it be used, where each tool lies, and if not, why not."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime

from django.db.models import prefetch_related_objects

from shared.units import METRIC
from tooling.calc.entry import part_key
from tooling.models import Entry, PartRevision, SetLine, SetRole, Tool
from tooling.selectors.set_ranks import Ranks
from tooling.selectors.usable.answer import reasons_of
from tooling.selectors.usable.asked import Asked, bagged
from tooling.selectors.usable.halves import replaced
from tooling.selectors.usable.hand import beside
from tooling.selectors.usable.read import Read
from tooling.selectors.usable.reason import Reason
from tooling.selectors.usable.set_inserts import groups
from tooling.selectors.usable.stands import stands
from tooling.words.places import found_at
from tooling.words.tool_set import no_mold, no_place, no_set


@dataclass(frozen=True, slots=True)
class LineNow:
    """A line of the set as it stands. Of several alternatives the one that is `offered` stands first; `why` says why.

    needed: the part cannot be made without it, or without one of its alternatives.
    own_pulls: the number of pulls after a coat that the part has of its own on this tool. pulls_left: before a coat.
    stands: how a tool without release surface stands, where an app says so.
    """

    line: SetLine
    place: str
    reasons: tuple[Reason, ...] = ()
    notes: tuple[Reason, ...] = ()
    needed: bool = True
    offered: bool = True
    why: str = ""
    pulls_left: int | None = None
    own_pulls: int | None = None
    stands: str = ""

    @property
    def role(self) -> str:
        """mold, insert, trim_mask or hardware."""
        return self.line.role

    @property
    def tool(self) -> Tool | None:
        """None for hardware, which `line.item` says in words."""
        return self.line.tool

    @property
    def usable(self) -> bool:
        """Whether nothing stops it."""
        return not self.reasons


@dataclass(frozen=True, slots=True)
class ToolSet:
    """The answer. `why` says what the set lacks as a whole; what stands against its tools stands at their lines.

    asked: what it was read with, so that whoever goes on from here reads nothing again.
    """

    revision: PartRevision
    at: datetime
    asked: Asked = field(repr=False, compare=False)
    lines: list[LineNow] = field(default_factory=list)
    why: str = ""

    @property
    def usable(self) -> bool:
        """Whether everything that is needed may be used: of alternatives the one that is offered."""
        return not self.why and all(one.usable for one in self.needed())

    def needed(self, *roles: str) -> list[LineNow]:
        """The lines without which the part cannot be made, in order: of alternatives the one that is offered.

        roles: only those of these; none: of all.
        """
        return [one for one in self.lines if one.offered and one.needed and (not roles or one.role in roles)]

    @property
    def with_others(self) -> list[tuple[LineNow, list[LineNow]]]:
        """Each line that is offered with those that stand behind it as its alternatives."""
        found: list[tuple[LineNow, list[LineNow]]] = []
        for line in self.lines:
            if line.offered:
                found.append((line, []))
            else:
                found[-1][1].append(line)
        return found

    @property
    def said_alone(self) -> frozenset[str]:
        """The codes of tools that say at their own lines what is wrong with them."""
        return frozenset(one.line.what for one in self.lines if one.offered and one.tool is not None)

    def said_at(self, now: LineNow) -> tuple[list[str], list[Reason]]:
        """Codes of tools in it that say themselves what is wrong with them; and the reasons that are said here."""
        keys = {one.key for line in self.lines if line is not now and line.offered for one in line.reasons}
        others = [
            one for one in now.reasons if one.tool != now.line.what and one.tool in self.said_alone and one.key in keys
        ]
        return list(dict.fromkeys(one.tool for one in others)), [one for one in now.reasons if one not in others]


def tool_set(revision: PartRevision, at: datetime, *, units: str = METRIC) -> ToolSet:
    """The set of a revision at a moment, in a fixed number of queries, however many lines and however long histories.

    Every reason comes from the one registry of `usable`; the molds are chosen first, then what goes with them.
    """
    return tool_sets([revision], at, units=units)[revision.pk]


def anything_written(answer: ToolSet) -> bool:
    """Whether any of its tools had a history at that moment."""
    tools = [one.line.tool_id for one in answer.lines if one.tool is not None]
    return Entry.objects.filter(tool__in=tools, at__lte=answer.at).exists()


def tool_sets(revisions: Iterable[PartRevision], at: datetime, *, units: str = METRIC) -> dict[int, ToolSet]:
    """The same for many, by the key of each revision: in as many queries as for one."""
    each = {one.pk: one for one in revisions}
    prefetch_related_objects(list(each.values()), "part")
    lines: dict[int, list[SetLine]] = {key: [] for key in each}
    for line in SetLine.objects.filter(revision__in=each).select_related("tool__summary").in_order():
        lines[line.revision_id].append(line)
    tools = (line.tool for of in lines.values() for line in of if line.tool is not None)
    read = Read(tools, at, vacuum=any(map(bagged, each.values())))
    return {key: _answer(one, at, lines[key], read, units) for key, one in each.items()}


def _answer(revision: PartRevision, at: datetime, lines: list[SetLine], read: Read, units: str) -> ToolSet:
    tools = [line.tool for line in lines if line.tool is not None]
    asked = Asked(tools, at, part=revision.part.number, revision=revision, units=units, gathering=True, read=read)
    if not lines:
        return ToolSet(revision, at, asked, why=no_set())
    asked.tool_set = [line for line in lines if line.tool is not None]
    found = reasons_of(asked)
    ranks = Ranks(asked, found)
    shown: list[LineNow] = []
    for role in SetRole.values:
        chosen = [(group, *ranks.ordered(group)) for group in groups([line for line in lines if line.role == role])]
        if role == SetRole.MOLD:
            _weigh(asked, found, ranks.chosen)
        for group, ordered, why in chosen:
            needed = any(one.required for one in group)
            offered = [_line(asked, one, found, needed) for one in ordered]
            shown += [replace(offered[0], why=why), *(replace(one, offered=False) for one in offered[1:])]
    said = stands(asked)
    shown = [replace(one, stands=said.get(one.line.tool_id or 0, "")) for one in shown]
    has_mold = any(line.role == SetRole.MOLD for line in lines)
    return ToolSet(revision, at, asked, shown, "" if has_mold else no_mold())


def _weigh(asked: Asked, found: dict[int, list[Reason]], molds: list[SetLine]) -> None:
    """Adds what stands against the chosen molds together, and against what goes with them and not with others."""
    for key, reason in (*replaced(asked, molds), *beside(asked, molds)):
        others = [one for one in found[key] if one.key != reason.key]
        found[key] = sorted([*others, reason], key=lambda one: not one.stops)


def _line(asked: Asked, line: SetLine, found: dict[int, list[Reason]], needed: bool) -> LineNow:
    if line.tool is None:
        return LineNow(line, no_place(), needed=needed)
    every = found[line.tool.pk]
    surface = next(iter(asked.surfaces.get(line.tool.pk, ())), None)
    return LineNow(
        line,
        found_at(asked.whereabouts[line.tool.pk]),
        tuple(one for one in every if one.stops),
        tuple(one for one in every if not one.stops),
        needed,
        pulls_left=None if surface is None else surface.status.pulls_left,
        own_pulls=None if surface is None else (surface.state.part_n or {}).get(part_key(asked.part)),
    )
