"""Find as one types: the queries of each keystroke, beside LIKE over four columns for a page of as many tools.

Both say which tools are on the page and how many there are, up to a thousand. The shop's tools get names, owners and
notes, then ten times as many are added, without a history: no word of theirs stands in one.
"""

import sqlite3
from collections.abc import Iterable, Iterator
from random import Random

from django.db import connection

from bench.measure import Row, Statement, Statements, in_turn, to_sqlite
from bench.synth.make import END
from tooling.models import Kind, Tool
from tooling.selectors.paging import COUNTED
from tooling.selectors.tools import sought
from tooling.services.search import keep

PAGE = 48
TIMES, PIECE = 10, 500
# What every third tool has, what every fortieth has, what one in a thousand has, a code, and what none has.
COMMON, FEW, RARE, CODE, NOWHERE = "kayak", "lantern", "cantilever", "mo-00421", "zwieback"
BOATS = ("Kayak", "Rowing shell", "Tender")
PIECES = ("deck", "hull", "hatch cover", "seat", "bulkhead", "rudder blade", "coaming", "skeg box", "thwart", "rim")
OWNERS = (*(f"Boatyard {number}" for number in range(1, 40)), "Lantern Quay Rowing Club")
NOTES = (
    "slipped at the thumb", "gelcoat thin near the bow", "flange sanded", "new dowels", "stored upside down",
    "bolts in the red box", "wax the corner twice", "edge chipped, filled", "two to lift it", "keep it from the sun",
)  # fmt: skip
HANGS = "hangs on the cantilever"

_LIKE = "FROM tooling_tool WHERE code LIKE :word OR name LIKE :word OR owner LIKE :word OR note LIKE :word"
PAGE_BY_LIKE = f"SELECT id, code {_LIKE} ORDER BY code LIMIT {PAGE + 1}"
COUNT_BY_LIKE = f"SELECT COUNT(*) FROM (SELECT 1 {_LIKE} LIMIT {COUNTED + 1})"


def measure() -> Iterator[Row]:
    """With the shop's own tools, then with ten times as many."""
    describe(Tool.objects.order_by("pk"))
    yield from keystrokes(1.5)
    describe(more((TIMES - 1) * Tool.objects.count()))
    yield from keystrokes(0.4)


def keystrokes(target: float) -> Iterator[Row]:
    """A row a word: all its keystrokes together, and which of them is the worst beside LIKE."""
    raw, many = sqlite3.connect(connection.settings_dict["NAME"]), f"{Tool.objects.count():,}"
    for word in (COMMON, FEW, RARE, CODE, NOWHERE):
        each = [keystroke(raw, word[:end]) for end in range(1, len(word) + 1)]
        worst = max(each, key=lambda row: row.ratio)
        what = f"find “{word}” of {many} tools, each keystroke; worst at “{worst.what}”, {worst.ratio:.2f}"
        figure = [sum(round_) for round_ in zip(*(row.figure for row in each), strict=True)]
        floor = [sum(round_) for round_ in zip(*(row.floor for row in each), strict=True)]
        yield Row(what, target, figure, floor)
    raw.close()


def keystroke(raw: sqlite3.Connection, text: str) -> Row:
    sent, word = sent_for(text), {"word": f"%{text}%"}
    like = [(PAGE_BY_LIKE, word), (COUNT_BY_LIKE, word)]
    return in_turn(Row(text, None), lambda: run(raw, sent), lambda: run(raw, like))


def sent_for(text: str) -> list[Statement]:
    """What the program asks the database for a page of what was typed."""
    heard = Statements()
    with heard.listen():
        sought(Tool.objects.all(), text, END, order="code", size=PAGE)
    return [(to_sqlite(sql), params) for sql, params in heard.kept]


def run(raw: sqlite3.Connection, statements: list[Statement]) -> None:
    for sql, params in statements:
        raw.execute(sql, params).fetchall()


def describe(tools: Iterable[Tool]) -> None:
    """Gives names, owners and notes to tools, and the words that these are found by."""
    rng, tools = Random(1), list(tools)
    for tool in tools:
        tool.name = f"{rng.choice(BOATS)} {rng.choice(PIECES)} {rng.randint(1, 900)}"
        tool.owner = rng.choice(OWNERS)
        said = rng.sample(NOTES, rng.randint(0, 3)) + [HANGS] * (rng.random() < 0.001)
        tool.note = ". ".join(said)
    Tool.objects.bulk_update(tools, ["name", "owner", "note"], batch_size=PIECE)
    keep(tool.pk for tool in tools)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def more(count: int) -> list[Tool]:
    """So many tools more, without a history."""
    kinds = list(Kind)
    return Tool.objects.bulk_create(
        [Tool(code=f"{kinds[n % 4][:2].upper()}-{10**6 + n}", kind=kinds[n % 4]) for n in range(count)], PIECE
    )
