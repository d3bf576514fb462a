"""Find page and morning board: their queries and rows, beside a raw fetch of the same rows by their keys."""

import sqlite3
from collections.abc import Callable, Iterator
from typing import Any

from django.db import connection

from bench.measure import Row, in_turn
from bench.synth.make import END
from tooling.models import Entry, Tool
from tooling.selectors.board import Board, Group, board
from tooling.selectors.rows import Row as Shown
from tooling.selectors.tools import look

PAGE = 50

# As it must come out for somebody who knows already which tools are shown.
FETCH = """
SELECT * FROM tooling_tool JOIN tooling_summary ON tooling_summary.tool_id = tooling_tool.id
JOIN tooling_span ON tooling_span.tool_id = tooling_tool.id AND from_at <= ? AND (until_at IS NULL OR until_at > ?)
WHERE tooling_tool.id IN ({places})
"""


def measure() -> Iterator[Row]:
    """A page of the list of all tools; then the whole board, every group full."""
    of = f"of {Tool.objects.count():,} tools, {Entry.objects.count():,} entries"
    page = find()
    yield beside_raw(f"find page, {PAGE} rows {of}", find, keys(page))
    shown = keys(on_board(board(END)))
    yield beside_raw(f"whole board, {len(shown)} rows {of}", lambda: board(END), shown)


def beside_raw(what: str, program: Callable[[], Any], shown: list[int]) -> Row:
    """What makes the rows, beside a fetch of the same tools."""
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    sql, now = FETCH.format(places=", ".join("?" * len(shown))), str(END.replace(tzinfo=None))
    row = in_turn(Row(what, 8), program, lambda: raw.execute(sql, (now, now, *shown)).fetchall(), rounds=21)
    raw.close()
    return row


def find() -> list[Shown]:
    return look(Tool.objects.all(), "", END, size=PAGE).rows


def on_board(morning: Board) -> list[Shown]:
    return [row for group in vars(morning).values() if isinstance(group, Group) for row in group.rows]


def keys(shown: list[Shown]) -> list[int]:
    """The tools that are shown, those inside another too."""
    return [one.tool.pk for row in shown for one in (row, *row.inside)]
