"""Where a tool comes from and all that came from there, with what belongs to these: in two queries, however many."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from django.db import connection
from django.db.models.expressions import RawSQL

from shared.natural import natural
from tooling.models import Entry, Kind, SetLine, Tool

_TOOL, _ENTRY, _LINE = (model._meta.db_table for model in (Tool, Entry, SetLine))
_STANDS = f"""NOT EXISTS (SELECT 1 FROM {_ENTRY} AS later WHERE later.replaces_id = entry.id)
        AND NOT EXISTS (SELECT 1 FROM {_ENTRY} AS later WHERE later.voids_id = entry.id)"""  # noqa: S608  (our own names)
# UNION, not UNION ALL: an older loop of origins ends there. `entry.mold_id IS NOT NULL` is for SQLite's index.
_FAMILY = f"""WITH RECURSIVE
    above(id) AS (
        SELECT CAST(%s AS bigint)
        UNION SELECT tool.made_from_id FROM {_TOOL} AS tool JOIN above ON tool.id = above.id
        WHERE tool.made_from_id IS NOT NULL),
    below(id) AS (
        SELECT id FROM above
        UNION SELECT tool.id FROM {_TOOL} AS tool JOIN below ON tool.made_from_id = below.id),
    earlier(id) AS (
        SELECT id FROM below
        UNION SELECT tool.in_place_of_id FROM {_TOOL} AS tool JOIN earlier ON tool.id = earlier.id
        WHERE tool.in_place_of_id IS NOT NULL),
    later(id) AS (
        SELECT id FROM below
        UNION SELECT tool.id FROM {_TOOL} AS tool JOIN later ON tool.in_place_of_id = later.id),
    family(id) AS (
        SELECT id FROM earlier UNION SELECT id FROM later
        UNION SELECT other.id FROM {_TOOL} AS one JOIN {_TOOL} AS other ON other.matched_set = one.matched_set
        WHERE one.matched_set <> '' AND one.id IN (SELECT id FROM below)
        UNION SELECT entry.tool_id FROM {_ENTRY} AS entry
        WHERE entry.mold_id IN (SELECT id FROM below) AND entry.mold_id IS NOT NULL
        AND entry.kind = 'installed' AND {_STANDS}
        UNION SELECT entry.mold_id FROM {_ENTRY} AS entry
        WHERE entry.tool_id IN (SELECT tool.id FROM {_TOOL} AS tool JOIN below ON tool.id = below.id
        WHERE tool.kind = 'insert') AND entry.kind = 'installed' AND {_STANDS}
        UNION SELECT other.tool_id FROM {_LINE} AS one JOIN {_LINE} AS other ON other.revision_id = one.revision_id
        WHERE one.tool_id IN (SELECT id FROM below) AND one.role <> other.role
        AND one.role IN ('mold', 'trim_mask') AND other.role IN ('mold', 'trim_mask'))
"""  # noqa: S608  (our own names)
_KEYS = f"{_FAMILY} SELECT id FROM family"  # noqa: S608  (our own names)
_BETWEEN = f"""{_FAMILY}
    SELECT 'made', entry.tool_id, 0, MIN(entry.part), SUM(COALESCE(entry.count, 1)) FROM {_ENTRY} AS entry
    WHERE entry.tool_id IN (SELECT id FROM family) AND entry.kind IN ('pull', 'used') AND {_STANDS}
    GROUP BY entry.tool_id, UPPER(entry.part)
    UNION ALL SELECT 'installed', entry.mold_id, entry.tool_id, '', COUNT(*) FROM {_ENTRY} AS entry
    WHERE entry.mold_id IN (SELECT id FROM family) AND entry.mold_id IS NOT NULL
    AND entry.kind = 'installed' AND {_STANDS} GROUP BY entry.mold_id, entry.tool_id
    UNION ALL SELECT 'trimmed', one.tool_id, other.tool_id, '', COUNT(*) FROM {_LINE} AS one
    JOIN {_LINE} AS other ON other.revision_id = one.revision_id
    WHERE one.tool_id IN (SELECT id FROM family) AND one.role = 'mold' AND other.role = 'trim_mask'
    GROUP BY one.tool_id, other.tool_id
"""  # noqa: S608  (our own names)
_SHOWN = ("summary__in_mold_of", "summary__seen_place", "summary__home")


@dataclass(frozen=True, slots=True)
class PartsMade:
    """How many of a part a tool made, or trimmed; "" is what nobody named."""

    part: str
    count: int


@dataclass
class Family:
    """The family of a tool. `line`: what it comes from, the first one first, and last itself.

    inside: by the key of a mold what was ever installed in it. trimmed: by the key of a mold the trim masks of its
    parts. parts: by the key of a tool what it made.
    """

    tool: Tool
    tools: dict[int, Tool]
    line: list[Tool] = field(default_factory=list)
    inside: dict[int, list[Tool]] = field(default_factory=dict)
    trimmed: dict[int, list[Tool]] = field(default_factory=dict)
    parts: dict[int, list[PartsMade]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Each with what was made from it and what took its place."""
        self._made: dict[int, list[Tool]] = defaultdict(list)
        self._after: dict[int, list[Tool]] = defaultdict(list)
        for one in _in_order(self.tools.values()):
            if one.made_from_id is not None:
                self._made[one.made_from_id].append(one)
            if one.in_place_of_id is not None:
                self._after[one.in_place_of_id].append(one)
        self.line = self.line or self._line()

    def made(self, tool: Tool) -> list[Tool]:
        """What was made from a tool."""
        return self._made.get(tool.pk, [])

    def copies(self, tool: Tool) -> list[Tool]:
        """The others of its kind that were made from the same one."""
        if tool.made_from_id is None:
            return []
        return [one for one in self._made.get(tool.made_from_id, []) if one != tool and one.kind == tool.kind]

    def halves(self, tool: Tool) -> list[Tool]:
        """The others of its matched set."""
        same = (one for one in self.tools.values() if tool.matched_set and one.matched_set == tool.matched_set)
        return _in_order(one for one in same if one != tool)

    def before(self, tool: Tool) -> list[Tool]:
        """Whose place it took, and whose place that one took, and so on back."""
        found: list[Tool] = []
        one = self.tools.get(tool.in_place_of_id or 0)
        while one is not None and one != tool and one not in found:
            found.append(one)
            one = self.tools.get(one.in_place_of_id or 0)
        return found

    def after(self, tool: Tool) -> list[Tool]:
        """What took its place."""
        return self._after.get(tool.pk, [])

    def inserts(self, tool: Tool) -> list[Tool]:
        """The mold inserts that were ever in a mold."""
        return self.inside.get(tool.pk, [])

    def molds_of(self, tool: Tool) -> list[Tool]:
        """The molds in which a mold insert was, or whose parts a trim mask is for."""
        kept = self.trimmed if tool.kind == Kind.TRIM_MASK else self.inside
        return _in_order(self.tools[key] for key, there in kept.items() if tool in there and key in self.tools)

    def trim_masks(self, tool: Tool) -> list[Tool]:
        """The trim masks of what is made in a mold."""
        return self.trimmed.get(tool.pk, [])

    def of_kind(self, kind: str) -> list[Tool]:
        """All of a kind."""
        return _in_order(one for one in self.tools.values() if one.kind == kind)

    def _line(self) -> list[Tool]:
        line = [self.tool]
        while (above := self.tools.get(line[0].made_from_id or 0)) is not None and above not in line:
            line.insert(0, above)
        return line


def family(tool: Tool) -> Family:
    """All that comes, however far down, from what a tool comes from; with matched halves, mold inserts that were ever
    in its molds, trim masks of its parts, and what took the place of what.
    """
    found = Tool.objects.filter(pk__in=RawSQL(_KEYS, [tool.pk]))  # noqa: S611  (our own)
    tools = {one.pk: one for one in found.select_related(*_SHOWN).order_by()}
    inside: dict[int, list[Tool]] = defaultdict(list)
    trimmed: dict[int, list[Tool]] = defaultdict(list)
    parts: dict[int, list[PartsMade]] = defaultdict(list)
    codes = {one.code for one in tools.values()}
    for what, one, other, part, count in _between(tool):
        if what == "made" and part.strip().upper() in codes:
            continue  # a tool that was laid up on it: no part, and it stands among what was made from it
        if what == "made":
            parts[one].append(PartsMade(part, int(count)))
        elif other in tools:
            (inside if what == "installed" else trimmed)[one].append(tools[other])
    for rows in parts.values():
        rows.sort(key=lambda row: (-row.count, row.part))
    inside, trimmed = ({key: _in_order(there) for key, there in kept.items()} for kept in (inside, trimmed))
    return Family(tools[tool.pk], tools, inside=inside, trimmed=trimmed, parts=dict(parts))


def _between(tool: Tool) -> Iterator[tuple[str, int, int, str, int]]:
    with connection.cursor() as cursor:
        cursor.execute(_BETWEEN, [tool.pk])
        yield from cursor.fetchall()


def _in_order(tools: Iterable[Tool]) -> list[Tool]:
    return sorted(tools, key=lambda one: natural(one.code))
