"""Writes entries in bulk: numbered, linked, sealed each day, and stepped through the states as the deeds do."""

import json
from datetime import date, datetime
from typing import Any

from django.db import connection

from bench.synth.catalogue import Works
from bench.synth.course import Deed
from tooling.calc.entry import INSERT_KINDS, RELEASE_KINDS, USE_KINDS
from tooling.calc.fold import advance
from tooling.calc.order import Key
from tooling.calc.state import State
from tooling.models import Entry, Flag, Seal, SealLine, SerialNumber
from tooling.models.serials import bare_of, key_of, split
from tooling.selectors.history import COLUMNS as FACT_COLUMNS
from tooling.selectors.history import fact, system_code
from tooling.services import chain, seals

BATCH = 5_000
_IN_COLUMNS = frozenset({
    "count", "came_off", "film", "part", "serial", "earliest_pull", "mold_id", "by_id", "voids__number",
})  # fmt: skip
_TABLE = [field.column for field in Entry._meta.concrete_fields]
_DEFAULTS = {"area": "whole", "came_off": "", "part": "", "serial": "", "release_system": ""}


class Writer:
    """Takes deeds in the order of recording. What follows from them is laid down by `finish`."""

    def __init__(self, works: Works) -> None:
        self.works = works
        tools = works.tools
        self.codes = [system_code(tool) for tool in tools]
        self.states = [State(system=code) for code in self.codes]
        self.keys: list[Key | None] = [None] * len(tools)
        self.counts = [0] * len(tools)
        self.heads = [chain.beginning(tool.pk) for tool in tools]
        self.installed: dict[int, list[int]] = {}
        self.dirty: set[int] = set()
        self._id = 0
        self._last_id = [0] * len(tools)
        self._entries: list[tuple[Any, ...]] = []
        self._flags: list[tuple[Any, ...]] = []
        self._serials: list[tuple[Any, ...]] = []
        self._day: date | None = None
        self._seal = seals.BEGINNING
        self._grown: set[int] = set()

    def write(self, deed: Deed) -> None:
        """One deed: seal where a day begins, link, keep the row, step the states."""
        self._seal_if_new_day(deed.at)
        self._id += 1
        fields, payload = self._fields(deed)
        self._link(deed, fields, payload)
        if deed.kind == "void":
            self.dirty.add(deed.tool)
        else:
            self._step(deed, fields, payload)
        self._last_id[deed.tool] = self._id
        if len(self._entries) >= BATCH:
            self.flush()

    def flush(self) -> None:
        """Writes the rows that are kept."""
        _insert(Entry._meta.db_table, _TABLE, self._entries)
        _insert(Flag._meta.db_table, ["entry_id", "surface_id", "flag"], self._flags)
        _insert(SerialNumber._meta.db_table, ["entry_id", "key", "part", "bare"], self._serials)

    def _fields(self, deed: Deed) -> tuple[dict[str, Any], dict[str, Any]]:
        """The columns and the payload, as `drafts` would part them."""
        said = deed.said
        fields = dict(_DEFAULTS, kind=deed.kind, at=deed.at, recorded_at=deed.at, number=self.counts[deed.tool] + 1)
        payload = {}
        for name, value in said.items():
            if name == "by":
                fields["by_id"] = fields["recorded_by_id"] = value
            elif name == "mold":
                fields["mold_id"] = self.works.tools[value].pk
            elif name == "voids":
                fields["voids__number"] = self.counts[deed.tool]
            elif name in _IN_COLUMNS:
                fields[name] = value
            else:
                payload[name] = value
        return fields, dict(sorted(payload.items()))

    def _link(self, deed: Deed, fields: dict[str, Any], payload: dict[str, Any]) -> None:
        tool = deed.tool
        values = [fields.get(name) for name in chain.COLUMNS[:-1]]
        self.heads[tool] = chain.link(self.heads[tool], (*values, payload))
        self.counts[tool] += 1
        self._grown.add(tool)
        stored = {
            **fields, "id": self._id, "tool_id": self.works.tools[tool].pk, "link": self.heads[tool],
            "payload": json.dumps(payload), "voids_id": self._last_id[tool] if deed.kind == "void" else None,
        }  # fmt: skip
        self._entries.append(tuple(_stored(stored.get(column)) for column in _TABLE))
        part = key_of(fields["part"])
        self._serials += [(self._id, key_of(one), part, bare_of(one)) for one in split(fields["serial"])]

    def _step(self, deed: Deed, fields: dict[str, Any], payload: dict[str, Any]) -> None:
        if deed.kind in INSERT_KINDS:
            mold = deed.said["mold"]
            self.installed.setdefault(mold, []).append(deed.tool)
            self.keys[deed.tool] = (deed.at, self._id)
        if deed.kind not in RELEASE_KINDS:
            return
        tool = self.works.tools[deed.tool].pk
        made = fact(tuple({**fields, "id": self._id, "tool_id": tool, "payload": payload}.get(c) for c in FACT_COLUMNS))
        touched = [deed.tool, *(self.installed.get(deed.tool, ()) if deed.kind in USE_KINDS else ())]
        rules = self.works.rules
        for place in touched:
            surface = self.works.tools[place].pk
            folded = advance(self.states[place], [made], surface, self.codes[place], rules.book, rules.zone)
            self.keys[place] = (deed.at, self._id)
            self._flags += [(entry, surface, flag) for entry, flag in folded.flags]

    def _seal_if_new_day(self, at: datetime) -> None:
        day = at.astimezone(self.works.rules.zone).date()
        if self._day is not None and day <= self._day:
            return
        lines = [(self.works.tools[tool].pk, self.counts[tool], self.heads[tool]) for tool in sorted(self._grown)]
        digest = seals.digest(self._seal, day, at, lines)
        seal = Seal.objects.create(day=day, made_at=at, previous=self._seal, digest=digest)
        rows = [(seal.pk, *line) for line in lines]
        _insert(SealLine._meta.db_table, ["seal_id", "tool_id", "count", "head"], rows)
        self._day, self._seal = day, digest
        self._grown.clear()


def _stored(value: Any) -> Any:
    """As Django's SQLite backend writes it: a time without its zone, which is UTC."""
    return str(value.replace(tzinfo=None)) if isinstance(value, datetime) else value


def _insert(table: str, columns: list[str], rows: list[tuple[Any, ...]]) -> None:
    names, places = ", ".join(f'"{column}"' for column in columns), ", ".join(["%s"] * len(columns))
    with connection.cursor() as cursor:
        cursor.executemany(f"INSERT INTO {table} ({names}) VALUES ({places})", rows)
    rows.clear()
