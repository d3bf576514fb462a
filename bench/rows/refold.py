"""What check_history does, fold, chain and seals, beside reading the entries raw. A fifth of the tools at a time."""

import sqlite3
from collections.abc import Iterator

from django.db import connection

from bench.measure import Row, seconds
from bench.synth.make import END
from shared import clock
from shared.pieces import in_pieces
from tooling.models import Entry, Tool
from tooling.services import chain
from tooling.services.recheck import differences
from tooling.services.tools import rules

PARTS = 5
FETCH = "SELECT * FROM tooling_entry WHERE tool_id BETWEEN ? AND ? ORDER BY tool_id, number"


def measure() -> Iterator[Row]:
    """Every tool once, in five parts one after the other."""
    row = Row(f"fold and verify {Entry.objects.count():,} entries", 10)
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    keys = list(Tool.objects.order_by("pk").values_list("pk", flat=True))
    size = -(-len(keys) // PARTS)
    with clock.set_to(END):
        for part in in_pieces(keys, size):
            row.floor.append(seconds(lambda part=part: raw.execute(FETCH, (part[0], part[-1])).fetchall()))
            row.figure.append(seconds(lambda part=part: check(part)))
    yield row
    raw.close()


def check(tools: list[int]) -> None:
    """It must find nothing: a check that finds something has stopped early."""
    assert not [*chain.verify(tools), *differences(rules(), tools)]
