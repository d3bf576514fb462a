"""The sheet `history`: every entry, one row each, in recording order."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.core.management.color import no_style
from django.db import connection
from django.db.models import QuerySet

from tooling.calc.entry import AREAS, CAME_OFF, CAUSES, FAULTS, KINDS, OUTCOMES, PREPARED, WORKS
from tooling.models import Entry, LeadNote, Person, Place, Tool
from tooling.services import bulk
from tooling.services.drafts import IN_PAYLOAD, draft
from tooling.services.sheets import cells, history_rules, places, wipes
from tooling.services.sheets.history_again import Again
from tooling.services.sheets.history_rows import Line, Reader
from tooling.services.sheets.table import Column, Load, Row, Sheet, note

_NAME = "history"
_MOST_NUMBER = 2**53  # beyond it a spreadsheet rounds


def _take(rows: Iterable[Row], load: Load) -> None:
    reader = Reader(load)
    again = Again(_COLUMNS, reader.tools, is_by_command=load.by is None)
    lines = []
    for row in rows:
        if again.takes(row):
            note(_NAME, row, load.report)
            continue
        line = reader.line(row)
        note(_NAME, row, load.report)
        if line is not None:
            lines.append(line)
    again.settle(_NAME, _give, load.report)
    history_rules.check(lines, reader, load)
    load.kept[_NAME] = (lines, bool(reader.numbers.rows))


def counted(load: Load) -> dict[int, Line]:
    """By its number, what names the count of a place."""
    lines: list[Line] = load.kept[_NAME][0]
    return {line.fact.id: line for line in lines if line.fact.id and line.said.get("counted")}


def numbered(load: Load) -> dict[int, Line]:
    """By its number, everything that has one."""
    lines: list[Line] = load.kept[_NAME][0]
    return {line.fact.id: line for line in lines if line.fact.id}


def standing(load: Load, of: Iterable[int]) -> set[int]:
    """Those of these numbers that no row voids or replaces."""
    lines: list[Line] = load.kept[_NAME][0]
    return set(of) - {number for line in lines for number in (line.fact.voids, line.fact.replaces)}


def _write(load: Load) -> int:
    lines: list[Line]
    lines, is_numbered = load.kept.pop(_NAME)
    if not lines:
        return 0
    drafts = _Drafts(lines, is_numbered, load)
    count = bulk.append(drafts.entries(lines), drafts.used, drafts.molds)
    LeadNote.objects.bulk_create(drafts.told())
    wipes.write(drafts.wiped, drafts.person)
    load.touched.update(drafts.used)
    if is_numbered:
        # the database goes on numbering behind the last of them
        with connection.cursor() as cursor:
            for sql in connection.ops.sequence_reset_sql(no_style(), [Entry]):
                cursor.execute(sql)
    return count


class _Drafts:
    """Lines as entries that are about to be written."""

    def __init__(self, lines: Iterable[Line], is_numbered: bool, load: Load) -> None:
        self.is_numbered, self.load = is_numbered, load
        # rows with numbers are the export of a shop, and say it themselves
        self.brought_by = load.by.pk if load.by is not None and not is_numbered else None
        self.key = dict(Tool.objects.values_list("code", "pk"))
        self.place = places.keys()
        self.used = {self.key[str(line.fact.tool)] for line in lines}
        self.molds = {self.key[str(line.fact.mold)] for line in lines if line.fact.mold}
        self.aimed = {number for line in lines for number in (line.fact.replaces, line.fact.voids) if number}
        self.tool = {pk: Tool(pk=pk) for pk in self.used}
        names = dict.fromkeys(name for line in lines for name in (line.by, line.recorded_by, line.lead_saw_by) if name)
        names |= dict.fromkeys(line.wiped.by for line in lines if line.wiped is not None and line.wiped.by)
        self.wiped: list[tuple[Entry, wipes.Wiped]] = []
        self.person = {name: Person.objects.named(name).pk for name in names}
        self.replaced = {line.fact.replaces for line in lines if line.fact.replaces}
        self._told: list[LeadNote] = []

    def entries(self, lines: list[Line]) -> Iterator[Entry]:
        """One after the other; a line is let go of when its entry is there."""
        written: dict[int | None, Entry] = {}
        lines.reverse()
        while lines:
            line = lines.pop()
            entry = self._entry(line)
            entry.replaces, entry.voids = written.get(line.fact.replaces), written.get(line.fact.voids)
            if self.is_numbered:
                entry.pk = line.fact.id
                if entry.pk in self.aimed:
                    written[entry.pk] = entry
            yield entry

    def told(self) -> list[LeadNote]:
        """What was told to the lead, once its entries are written; a correction is told for what it replaced."""
        return [one for one in self._told if one.entry.pk not in self.replaced]

    def _entry(self, line: Line) -> Entry:
        said, fact = line.said, line.fact
        keys = {"mold": self.key, "surface": self.key, "place": self.place}
        mold = keys["mold"][said.pop("mold")] if "mold" in said else None
        for name in ("surface", "place"):
            if name in said:
                said[name] = keys[name][said[name]]
        entry = draft(self.tool[self.key[str(fact.tool)]], fact.kind, said)
        entry.mold_id, entry.at, entry.recorded_at = mold, fact.at, fact.recorded_at or self.load.now
        entry.by_id = self.person.get(line.by)
        entry.recorded_by_id = self.person.get(line.recorded_by) or self.brought_by
        if entry.payload.get("for_lead"):
            seen_by = self.person.get(line.lead_saw_by)
            self._told.append(LeadNote(entry=entry, seen_at=line.lead_saw_at, seen_by_id=seen_by))
        if line.wiped is not None:
            self.wiped.append((entry, line.wiped))
        return entry


_DIRECT = ("count", "came_off", "film", "release_system", "part", "serial", "earliest_pull")
_READ = (
    "id", "tool_id", "at", "kind", "area", "mold_id", "by_id", "replaces_id", "voids_id", "recorded_at",
    "recorded_by_id", "payload", *_DIRECT, *wipes.READ,
)  # fmt: skip


def _give(entries: QuerySet[Entry] | None = None) -> Iterator[Mapping[str, Any]]:
    """What is stored, row by row; without `entries` all of it, in recording order."""
    entries = Entry.objects.order_by("id") if entries is None else entries
    tool = dict(Tool.objects.values_list("pk", "code"))
    place = dict(Place.objects.values_list("pk", "code"))
    person = dict(Person.objects.values_list("pk", "name"))
    notes = LeadNote.objects.exclude(seen_by=None).values_list("entry", "seen_at", "seen_by")
    seen = {key: {"lead_saw_at": at, "lead_saw_by": person[by]} for key, at, by in notes}
    for values in wipes.read_with(entries).values_list(*_READ).iterator(chunk_size=2000):
        row = dict(zip(_READ, values, strict=True))
        said = {name: value for name, value in row["payload"].items() if name in IN_PAYLOAD}
        if "surface" in said:
            said["surface"] = tool[said["surface"]]
        if "place" in said:
            said["place"] = place[said["place"]]
        yield {
            **said,
            **{name: row[name] for name in _DIRECT},
            **wipes.given(row),
            "tool": tool[row["tool_id"]],
            "at": row["at"],
            "entry": row["kind"],
            "area": row["area"] if row["area"] != "whole" else None,
            "mold": tool[row["mold_id"]] if row["mold_id"] else None,
            "by": person[row["by_id"]] if row["by_id"] else None,
            "number": row["id"],
            "replaces": row["replaces_id"],
            "voids": row["voids_id"],
            "recorded_at": row["recorded_at"],
            "recorded_by": person[row["recorded_by_id"]] if row["recorded_by_id"] else None,
            **seen.get(row["id"], {}),
        }


_COLUMNS = (
    Column("tool", cells.REFERENCE, needed=True),
    Column("at", cells.INSTANT, needed=True),
    Column("entry", cells.ANY_WORD._replace(words=tuple(sorted(KINDS))), needed=True),
    Column("count", cells.whole(1)),
    Column("area", cells.word(*AREAS)),
    Column("came_off", cells.word(*CAME_OFF)),
    Column("film", cells.YES_NO),
    Column("release_system", cells.REFERENCE),
    Column("part", cells.name(80)),
    Column("revision", cells.name(40)),
    Column("serial", cells.TEXT),
    Column("earliest_pull", cells.INSTANT),
    Column("lot", cells.TEXT),
    Column("cause", cells.word(*CAUSES)),
    Column("fault", cells.word(*FAULTS)),
    Column("part_damaged", cells.YES_NO),
    Column("tool_damaged", cells.YES_NO),
    Column("surface", cells.REFERENCE),
    Column("inserts_back", cells.YES_NO),
    Column("passed", cells.YES_NO),
    Column("by", cells.name(80)),
    Column("reason", cells.TEXT),
    Column("prepared", cells.word(*PREPARED)),
    Column("pulls_since_coat", cells.whole(0)),
    Column("touch_ups", cells.whole(0)),
    Column("total_pulls", cells.whole(0)),
    Column("mold", cells.REFERENCE),
    Column("place", cells.REFERENCE),
    Column("home", cells.YES_NO),
    Column("seen", cells.YES_NO),
    Column("person", cells.TEXT),
    Column("until", cells.DATE),
    Column("minutes", cells.EXACT),
    Column("value", cells.EXACT),
    Column("quantity", cells.TEXT),
    Column("unit", cells.TEXT),
    Column("instrument", cells.TEXT),
    Column("step", cells.TEXT),
    Column("work", cells.word(*WORKS)),
    Column("material", cells.TEXT),
    Column("grit", cells.TEXT),
    Column("evidence", cells.TEXT),
    Column("why", cells.TEXT),
    Column("against", cells.TEXT),
    Column("cutter", cells.TEXT),
    Column("outcome", cells.word(*OUTCOMES)),
    Column("metres", cells.EXACT),
    Column("gauge", cells.TEXT),
    Column("points", cells.TEXT),
    Column("limit_mm", cells.EXACT),
    Column("calibrated_until", cells.DATE),
    Column("checklist", cells.whole(1)),
    Column("answers", cells.TEXT),
    Column("defects", cells.TEXT),
    Column("method", cells.TEXT),
    Column("spot", cells.TEXT),
    Column("geometry", cells.TEXT),
    Column("standard", cells.TEXT),
    Column("design_ref", cells.TEXT),
    Column("design_revision", cells.TEXT),
    *wipes.COLUMNS,
    Column("note", cells.TEXT),
    Column("for_lead", cells.YES_NO),
    Column("number", cells.whole(1, _MOST_NUMBER)),
    Column("replaces", cells.whole(1, _MOST_NUMBER)),
    Column("voids", cells.whole(1, _MOST_NUMBER)),
    Column("recorded_at", cells.INSTANT),
    Column("recorded_by", cells.name(80)),
    Column("counted", cells.whole(1, _MOST_NUMBER)),
    Column("lead_saw_at", cells.INSTANT),
    Column("lead_saw_by", cells.name(80)),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
