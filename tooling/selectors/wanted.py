"""What is wanted: the parts on the list, and how far each is by what was laid up and pulled since."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from typing import Any

from django.db import connection

from tooling.calc.entry import part_key
from tooling.calc.halves import APART
from tooling.calc.wanted import LAY_UP, PULL, Begun, Progress, progress
from tooling.models import Entry, Kind, PartRevision, Person, Wanted
from tooling.models.parts import as_in_index
from tooling.models.serials import split, whole_key

# What is done stays to be read, and comes back where its pull turns out to be void; then it is put away for good.
KEPT = timedelta(days=7)
# What a page shows of what is off the list.
LATELY, MOST_OFF = timedelta(days=14), 100

# Among entries of one instant a correction stands where the first of its chain stood, as everywhere.
_FIRST = """(
  WITH RECURSIVE chain(id, earlier) AS (
    SELECT {entry}.id, {entry}.replaces_id
    UNION ALL
    SELECT was.id, was.replaces_id FROM chain CROSS JOIN tooling_entry AS was WHERE was.id = chain.earlier
  ) SELECT MIN(chain.id) FROM chain
)"""
_STANDS = """NOT EXISTS (SELECT 1 FROM tooling_entry AS other WHERE other.replaces_id = {entry}.id)
    AND NOT EXISTS (SELECT 1 FROM tooling_entry AS other WHERE other.voids_id = {entry}.id)"""
# A tool that was taken out of use holds no part that will be pulled.
_ENDS = "('lay_up', 'pull', 'abandoned', 'retired', 'starting_state')"
_NEAR = f"""(
  SELECT near.id FROM tooling_entry AS near
  WHERE near.tool_id = entry.tool_id AND near.kind IN {_ENDS} AND near.id <> entry.id
    AND near.at {{side}}= entry.at
    AND (near.at {{side}} entry.at OR {_FIRST.format(entry="near")} {{side}} {_FIRST.format(entry="entry")})
    AND {_STANDS.format(entry="near")}
  ORDER BY near.at {{order}}, {_FIRST.format(entry="near")} {{order}} LIMIT 1
)"""  # noqa: S608  (no word of it comes from anybody)
# From each wanted part into the index of what was made of it: CROSS JOIN keeps SQLite to that order. Whatever stands
# there of what is void or corrected is left out; beside each stands what its tool was used for before and after.
_NAMED = f"""
WITH wanted(id, key, since) AS (VALUES {{rows}})
SELECT entry.id, entry.tool_id, entry.kind, entry.at, entry.part, entry.serial, entry.count, entry.came_off,
  wanted.id AS wanted, tool.code AS tool_code, tool.kind AS tool_kind, tool.matched_set,
  {_NEAR.format(side="<", order="DESC")} AS before, {_NEAR.format(side=">", order="ASC")} AS after
FROM wanted
CROSS JOIN tooling_entry AS entry
CROSS JOIN tooling_tool AS tool
WHERE tool.id = entry.tool_id AND UPPER(entry.part) = wanted.key AND entry.part > '' AND entry.at >= wanted.since
  AND entry.kind IN ('lay_up', 'pull') AND {_STANDS.format(entry="entry")}
"""  # noqa: S608


@dataclass(frozen=True, slots=True)
class OnList:
    """A wanted part, the revision that is meant (None: nobody wrote one down), and how far it is."""

    row: Wanted
    revision: PartRevision | None
    progress: Progress

    @property
    def name(self) -> str:
        """What the part is called; its number where it has no name."""
        return self.revision.name if self.revision is not None else self.row.part.number

    @property
    def is_done(self) -> bool:
        """Whether as many as are wanted came off."""
        return self.progress.done_at is not None


def on_list(at: datetime, zone: tzinfo, *, by_today: bool = False, of: Iterable[OnList] | None = None) -> list[OnList]:
    """All parts on the list in the order in which they were put there; what was done on an earlier day is off it.

    by_today: without those that are wanted for a day to come. of: what `not_put_away` said, where that was asked.
    """
    today = at.astimezone(zone).date()
    return [
        one
        for one in (not_put_away() if of is None else of)
        if _day(one, zone) >= today and not (by_today and one.row.day is not None and one.row.day > today)
    ]


def done_before(
    at: datetime, zone: tzinfo, part: str | None = None, *, of: Iterable[OnList] | None = None
) -> list[OnList]:
    """Those that were done on an earlier day, and are not put away yet. part: only that of this number."""
    today, every = at.astimezone(zone).date(), not_put_away(part) if of is None else of
    return [one for one in every if one.progress.done_at is not None and _day(one, zone) < today]


def off_lately(at: datetime) -> list[Wanted]:
    """What was taken off, or is put away, within the last days, the latest first."""
    off = Wanted.objects.filter(off_at__gte=at - LATELY, off_at__lte=at).order_by("-off_at", "-pk")
    return list(off.select_related("part", "off_by", "by")[:MOST_OFF])


def just_off(person: Person, at: datetime, within: timedelta) -> list[Wanted]:
    """What somebody took off within this last while, the latest first."""
    off = Wanted.objects.filter(off_by=person, off_at__gte=at - within, off_at__lte=at).order_by("-off_at", "-pk")
    return list(off.select_related("part")[:MOST_OFF])


def meant(rows: Iterable[Wanted]) -> dict[int, PartRevision]:
    """The revision that each row means, by the row's key: the one that it names, else the newest of its part."""
    rows = list(rows)
    newest: dict[int, PartRevision] = {}
    known: dict[int, PartRevision] = {}
    of_all = PartRevision.objects.filter(part__in={row.part_id for row in rows}).select_related("part")
    for one in of_all.order_by("id"):
        known[one.pk] = newest[one.part_id] = one
    found = {row.pk: known.get(row.revision_id or 0) or newest.get(row.part_id) for row in rows}
    return {pk: one for pk, one in found.items() if one is not None}


def _day(one: OnList, zone: tzinfo) -> date:
    done = one.progress.done_at
    return done.astimezone(zone).date() if done is not None else date.max


def not_put_away(part: str | None = None) -> list[OnList]:
    """All that is on the list and all that was done on it and is not put away yet. part: only that of this number."""
    found = Wanted.objects.on_list().in_order().select_related("part", "by")
    rows = list(found if part is None else found.filter(part__number__iexact=part))
    revisions, begun = meant(rows), _begun({row.pk: row for row in rows}) if rows else {}
    return [OnList(row, revisions.get(row.pk), progress(begun.get(row.pk, ()), row.count, _since(row))) for row in rows]


def _since(row: Wanted) -> datetime:
    """From when on it is wanted: times of deeds are written to the minute."""
    return row.at.replace(second=0, microsecond=0)


def _begun(rows: dict[int, Wanted]) -> dict[int, list[Begun]]:
    """The lay-ups of each wanted part since it is wanted, and from a day before, in two queries."""
    named = _named(rows.values())
    near = {key for one in named for key in (one.before, one.after) if key is not None}
    known: dict[int, Any] = {one.pk: one for one in named}
    further = Entry.objects.filter(pk__in=near - known.keys())
    known |= {one.pk: one for one in further.only("kind", "at", "part", "serial", "count", "came_off")}
    found: dict[int, list[Begun]] = defaultdict(list)
    for one in named:
        begun = _one(one, rows[one.wanted], known)
        if begun is not None:
            found[one.wanted].append(begun)
    return found


def _named(rows: Iterable[Wanted]) -> list[Any]:
    """The lay-ups and pulls that name these parts, by every way in which SQL may have a number in capitals."""
    adapt = connection.ops.adapt_datetimefield_value
    told = [(row.pk, key, adapt(_since(row) - APART)) for row in rows for key in sorted(as_in_index(row.part.number))]
    sql = _NAMED.format(rows=", ".join(["(%s, %s, %s)"] * len(told)))
    return list(Entry.objects.raw(sql, [value for one in told for value in one]))


def _one(one: Any, row: Wanted, known: dict[int, Any]) -> Begun | None:
    """The lay-up that an entry stands for; None for what another entry stands for, or what was begun long before."""
    group = one.matched_set.casefold() if one.tool_kind == Kind.MOLD else ""
    if one.kind == LAY_UP:
        after = known.get(one.after)
        if after is not None and after.kind == PULL and after.part and not _is(after, row):
            return None
        return _from(one, one, after, group)
    before = known.get(one.before)
    laid_up = before if before is not None and before.kind == LAY_UP else None
    if laid_up is not None and (laid_up.at < _since(row) - APART or _is(laid_up, row)):
        return None
    # Nobody wrote down that it was laid up, or not of which part.
    return _from(one, laid_up or one, one, group)


def _from(one: Any, first: Any, end: Any | None, group: str) -> Begun:
    """What `first` began, and `end` ended; either may be the same entry, `one`."""
    numbers = {whole_key(number) for entry in (first, end) if entry is not None for number in split(entry.serial)}
    ended = (end.kind, end.at, _whole(end)) if end is not None else ()
    return Begun(one.tool_code, group, first.at, _count(first), *ended, serials=frozenset(numbers))


def _is(entry: Any, row: Wanted) -> bool:
    return part_key(entry.part) == part_key(row.part.number)


def _whole(ended: Any) -> int:
    return _count(ended) if ended.kind == PULL and ended.came_off != "lost" else 0


def _count(entry: Any) -> int:
    """How many parts: a pull of several cavities may have one count, and a number for each."""
    return max(entry.count or 1, len(split(entry.serial)))
