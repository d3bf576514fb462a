"""The worked cases of the release rules, read into plain values. Codes are the keys of tools here."""

import json
from dataclasses import fields
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from tooling.calc.entry import Entry
from tooling.calc.recipe import Recipe, RecipeBook

PATH = Path(__file__).parents[2] / "data" / "release_cases.json"
_WORDS = {"yes": True, "no": False}


@cache
def load() -> dict[str, Any]:
    """The file as it is."""
    return json.loads(PATH.read_text(encoding="utf-8"))


ZONE = ZoneInfo(load()["time_zone"])
CASES = {case["case"]: case for case in load()["cases"]}


def instant(text: str) -> datetime:
    """A local time of the file in UTC."""
    return datetime.fromisoformat(text).replace(tzinfo=ZONE).astimezone(UTC)


def book() -> RecipeBook:
    """The recipes of the file."""
    names = {f.name for f in fields(Recipe)}
    rows = []
    for row in load()["release_systems"]:
        values = {name: tuple(row[name]) if isinstance(row[name], list) else row[name] for name in names & row.keys()}
        values["valid_from"] = instant(row["valid_from"]) if row["valid_from"] else None
        rows.append(Recipe(**values))
    return RecipeBook(rows)


def entries(case: dict[str, Any]) -> dict[str, list[Entry]]:
    """The log of a case, by tool, in recording order."""
    logs: dict[str, list[Entry]] = {case["case"]: []}
    for line in case["log"]:
        values = {name: _WORDS.get(value, value) if name in ("film", "passed", "tool_damaged") else value
                  for name, value in line.items() if name not in ("entry", "part_damaged")}  # fmt: skip
        values["tool"] = line.get("tool", case["case"])
        values["kind"] = line["entry"]
        for name in ("at", "earliest_pull"):
            if name in line:
                values[name] = instant(line[name])
        logs.setdefault(values["tool"], []).append(Entry(**values))
    return logs
