"""The lines of a tool set as a lead edits them, and in which sets a tool stands."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db.models.functions import Upper

from tooling.models import Kind, Part, PartRevision, Picture, SetLine, SetRole, Summary, Tool
from tooling.selectors import pictures
from tooling.selectors.about import served
from tooling.selectors.find import with_words, words_in
from tooling.selectors.parts import makers
from tooling.selectors.tools import near
from tooling.selectors.usable.set_inserts import groups

# Tools that are offered to be tapped.
OFFERED = 8


@dataclass(frozen=True, slots=True)
class Line:
    """A line; `place` of its group in the role, from 1; `halves`: the codes that close on one part with it."""

    line: SetLine
    place: int
    picture: Picture | None = None
    halves: tuple[str, ...] = ()
    retired: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Lines of which one is enough; a line by itself is a group of one. `last`: nothing of its role comes behind."""

    lines: list[Line]
    last: bool

    @property
    def place(self) -> int:
        """From 1."""
        return self.lines[0].place

    @property
    def before(self) -> int:
        """The place before its own."""
        return self.place - 1

    @property
    def behind(self) -> int:
        """The place behind its own."""
        return self.place + 1

    @property
    def word(self) -> str:
        """What the shop calls these alternatives."""
        return self.lines[0].line.alternative


@dataclass(frozen=True, slots=True)
class Lines:
    """The set of a revision by role, in order."""

    revision: PartRevision
    roles: dict[str, list[Group]] = field(default_factory=dict)

    @property
    def all(self) -> list[Line]:
        """Every line in order."""
        return [line for of_role in self.roles.values() for group in of_role for line in group.lines]

    @property
    def open(self) -> list[Line]:
        """Those that nobody has confirmed for the revision."""
        return [one for one in self.all if not one.line.confirmed]

    def found(self, pk: str) -> Line | None:
        """The line of that key."""
        return next((one for one in self.all if str(one.line.pk) == pk), None)

    def of_role(self, line: SetLine) -> list[SetLine]:
        """The others of its role."""
        return [one.line for one in self.all if one.line.role == line.role and one.line.pk != line.pk]


def set_lines(revision: PartRevision) -> Lines:
    """The set of a revision, in two queries."""
    lines = list(revision.tool_set.select_related("tool__summary", "revision__part").in_order())
    shown = pictures.mains(line.tool_id for line in lines if line.tool_id is not None)
    closes: dict[str, list[str]] = defaultdict(list)
    for line in lines:
        if line.tool is not None and _closes(line.tool):
            closes[line.tool.matched_set].append(line.tool.code)
    roles = {}
    for role in SetRole.values:
        blocks = groups([line for line in lines if line.role == role])
        made = [[_line(line, place, shown, closes) for line in block] for place, block in enumerate(blocks, 1)]
        roles[role] = [Group(block, block is made[-1]) for block in made]
    return Lines(revision, roles)


def _line(line: SetLine, place: int, shown: dict[int, Picture], closes: dict[str, list[str]]) -> Line:
    tool = line.tool
    if tool is None:
        return Line(line, place)
    halves = tuple(code for code in closes[tool.matched_set] if code != tool.code) if _closes(tool) else ()
    return Line(line, place, shown.get(tool.pk), halves, tool.summary.retired)


def _closes(tool: Tool) -> bool:
    in_use = not (tool.summary.retired or tool.summary.making)
    return bool(tool.matched_set) and tool.kind == Kind.MOLD and in_use


def offered(lines: Lines) -> list[Tool]:
    """Tools that histories name for the part and that are not in the set yet, the last used first."""
    there = {one.line.tool_id for one in lines.all}
    made = [one.tool for one in makers(lines.revision.part.number) if one.tool.pk not in there]
    return _that_can(made)[:OFFERED]


def meant(text: str) -> list[Tool]:
    """Tools that somebody may mean who wrote this: those that have the words, then those of codes much like it."""
    words = words_in(text)
    those = Tool.objects.filter(kind__in=SetRole.TAKES.values(), summary__retired=False)
    named = list(with_words(those, words).order_by("code")[:OFFERED]) if words else []
    return list(dict.fromkeys([*named, *_that_can(near(text))]))[:OFFERED]


def _that_can(tools: Iterable[Tool]) -> list[Tool]:
    """Those that may come into a set: of a kind that has a role there, and not retired."""
    able = [tool for tool in tools if tool.kind in SetRole.TAKES.values()]
    gone = set(Summary.objects.filter(tool__in=able, retired=True).values_list("tool", flat=True)) if able else set()
    return [tool for tool in able if tool.pk not in gone]


def with_sets(part: Part, but: PartRevision) -> list[PartRevision]:
    """The other revisions of a part that have a tool set, the newest first."""
    having = SetLine.objects.filter(revision__part=part).values("revision")
    return list(part.revisions.filter(pk__in=having).exclude(pk=but.pk).newest_first())


def sets_of(tool: Tool) -> dict[Part, list[PartRevision]]:
    """The parts in whose sets a tool stands, by number, each with the revisions, the newest first. One query."""
    found: dict[Part, list[PartRevision]] = defaultdict(list)
    lines = SetLine.objects.filter(tool=tool).select_related("revision__part")
    for line in sorted(lines, key=lambda one: (one.revision.part.number, -one.revision_id)):
        found[line.revision.part].append(line.revision)
    return dict(found)


def served_without(tool: Tool) -> list[Part]:
    """The parts that its history names and in whose sets it does not stand, the last made first."""
    named = [one.number.upper() for one in served(tool)]
    rows = Part.objects.annotate(key=Upper("number")).filter(key__in=named) if named else ()
    there = {one.key: one for one in rows}
    standing = {part.pk for part in sets_of(tool)}
    return [there[one] for one in named if one in there and there[one].pk not in standing][:OFFERED]
