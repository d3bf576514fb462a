"""What the morning board says of trim masks: whose cut edge is to be checked, and which are ready for parts in molds.

Three queries, however many rows: lines of tool sets, the trim masks with their checks, and their cuts.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from django.db.models import OuterRef, Q, Subquery
from django.db.models.functions import Upper

from tooling.calc.entry import part_key
from tooling.models import Entry, Kind, PartRevision, SetLine, SetRole, Summary
from tooling.models.parts import as_in_index
from tooling.selectors.board import MOST, RECENT
from tooling.selectors.board_more import MoreRows, Morning
from tooling.selectors.rows import Row
from tooling.selectors.usable.answer import reasons_of
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.read import Read
from tooling.selectors.usable.rows import rows_of
from tooling.selectors.usable.set_inserts import groups
from trimfixtures.models import Mask
from trimfixtures.selectors.checks import Checked
from trimfixtures.selectors.usable import read as of_masks
from trimfixtures.words import board as words


class Glance(Read):
    """Trim masks as a board sees them: what holds one, and what was told of it, is not said on it and not read."""

    def __init__(self, morning: Morning, rows: Iterable[Summary]) -> None:
        """rows: those of the trim masks, and of no other tool."""
        super().__init__([], morning.at, shop=morning.shop)
        self.summaries = {one.tool_id: one for one in rows}
        self.tools = {key: one.tool for key, one in self.summaries.items()}
        self.told, self.repairs, self.holds = [], [], {}

    @property
    def checks(self) -> dict[int, Checked]:
        """How far each is from its next check."""
        return self.once(of_masks.checks)

    @property
    def masks(self) -> dict[int, Mask]:
        """What is written down of each."""
        return self.once(of_masks.masks)


@dataclass(frozen=True)
class Seen:
    """The lines of the newest tool set of each part in a mold, by the key of its number; and the trim masks."""

    lines: dict[str, list[SetLine]] = field(default_factory=dict)
    glance: Glance | None = None


def to_check(morning: Morning) -> MoreRows | None:
    """Those used lately whose cut edge is to be checked now or within a few parts; what is held stands there."""
    glance = morning.once(_seen).glance
    if glance is None:
        return None
    found = [(key, one) for key, one in glance.checks.items() if one.soon and _in_use(glance.summaries[key])]
    found.sort(key=lambda pair: (not pair[1].wanted, pair[1].left or 0, glance.tools[pair[0]].code))
    lines = [words.to_check(glance.tools[key], one, glance.masks.get(key)) for key, one in found[:MOST]]
    return MoreRows(words.TO_CHECK, lines, words.opening(len(found)), len(found[MOST:]))


def _in_use(row: Summary) -> bool:
    return not (row.making or row.accept_again or row.retired or row.held_since is not None)


def for_parts(morning: Morning) -> dict[int, tuple[str, ...]]:
    """For each part in a mold, whether its trim masks may be used when it comes out, why not, and what to know."""
    seen = morning.once(_seen)
    found = {}
    for row in morning.in_molds:
        lines = seen.lines.get(part_key(row.summary.part), []) if row.summary.part else []
        if seen.glance is not None and any(line.role == SetRole.TRIM_MASK for line in lines):
            found[row.tool.pk] = tuple(_said(morning, seen.glance, row, lines))
    return found


def _said(morning: Morning, glance: Glance, row: Row, lines: list[SetLine]) -> Iterator[str]:
    # One of the other hand does not cut what comes out of this mold.
    hand = next((line.tool.hand for line in lines if line.tool is not None and line.tool_id == row.tool.pk), "")
    masks = [
        line
        for line in lines
        if line.role == SetRole.TRIM_MASK and not (line.tool and hand and line.tool.hand not in ("", hand))
    ]
    revision = lines[0].revision
    asked = Asked(
        [glance.tools[line.tool_id] for line in masks if line.tool_id is not None],
        max(morning.at, row.status.ready_at or morning.at),
        part=revision.part.number,
        revision=revision,
        units=morning.units,
        read=glance,
    )
    # The part is in this mold, whatever others its set has.
    asked.tool_set = [line for line in lines if line in masks or line.tool_id == row.tool.pk]
    found = reasons_of(asked)
    usable: dict[str, list[str]] = {}
    for group in groups([line for line in masks if line.required]):
        stops = {line.what: [one for one in found[line.tool_id or 0] if one.stops] for line in group}
        best = min(stops, key=lambda code: len(stops[code]))
        if stops[best]:
            yield words.not_usable(best, stops[best][0].text)
        else:
            usable[best] = [one.text for line in group if line.what == best for one in found[line.tool_id or 0]]
    if usable:
        yield words.usable(list(usable))
    yield from (words.to_know(code, notes) for code, notes in usable.items() if notes)


def _seen(morning: Morning) -> Seen:
    lines = _lines(row.summary.part for row in morning.in_molds if row.summary.part)
    of_parts = [line.tool_id for each in lines.values() for line in each if line.role == SetRole.TRIM_MASK]
    lately = Entry.objects.filter(kind="used", at__gte=morning.at - RECENT).values("tool")
    found = list(rows_of(Q(tool__in=of_parts) | Q(tool__in=lately), morning.at, {Kind.TRIM_MASK}))
    return Seen(lines, Glance(morning, found) if found else None)


def _lines(parts: Iterable[str]) -> dict[str, list[SetLine]]:
    """The molds and trim masks in the newest tool set of each part, by the key of its number."""
    keys = {key for part in parts for key in as_in_index(part.strip())}
    if not keys:
        return {}
    newest = PartRevision.objects.filter(part=OuterRef("revision__part")).newest_first().values("pk")[:1]
    found: dict[str, list[SetLine]] = defaultdict(list)
    rows = SetLine.objects.annotate(number=Upper("revision__part__number")).filter(number__in=keys)
    rows = rows.filter(role__in=(SetRole.MOLD, SetRole.TRIM_MASK), revision=Subquery(newest))
    for line in rows.select_related("tool", "revision__part").in_order():
        found[part_key(line.revision.part.number)].append(line)
    return found
