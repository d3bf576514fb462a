"""The readings of a tool with 5,000 entries and 500 readings: beside a raw fetch of the same, and its whole page.

What is past a limit is asked without statistics: a shop's own file has none, the bench's has.
"""

import sqlite3
from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

from django.db import connection

from bench.measure import Row, Statements, in_turn, to_sqlite
from bench.rows.request import asked, in_place, signed_in
from bench.synth.catalogue import LONG, SHORT
from bench.synth.make import END
from shared import clock
from tooling.models import Entry, Person, Tool
from tooling.selectors.past_limits import past_limits
from tooling.selectors.readings import series
from tooling.services.reading_limits import set_limit

SPOTS, VISITS, QUERIES = 5, 100, 5
_LINK = "0" * 64


def measure() -> Iterator[Row]:
    """A hundred visits of five spots each, spread over the last days of a long history and of a short one."""
    from django.core.wsgi import get_wsgi_application

    set_limit(kind="mold", quantity="gloss", unit="GU", geometry="60°", limit=Decimal(70), worse="down")
    long, short = (Tool.objects.select_related("summary").order_by("pk")[place] for place in (LONG, SHORT))
    for tool in (long, short):
        _read(tool)
    heard = Statements()
    with heard.listen():
        series(long, END)
    fetched = [(to_sqlite(sql), tuple(params)) for sql, params in heard.kept]
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    what = f"{SPOTS * VISITS} readings in 5,000 entries as series / their rows, {len(fetched)} statements"
    row = in_turn(Row(what, 10), lambda: series(long, END), lambda: [raw.execute(*one).fetchall() for one in fetched])
    if len(fetched) > QUERIES:
        row.target, row.held = None, False
    yield row
    cookie = signed_in(Person.objects.filter(role="lead").first() or Person.objects.create_person("Lead", "lead"))
    with in_place(), clock.set_to(END):
        program = get_wsgi_application()
        pages = [asked(program, f"/tools/{tool.code}/readings/", cookie) for tool in (long, short)]
        yield in_turn(Row("request of that page, 5,000 entries beside the readings / 50", 1.5), *pages)
    yield _without_statistics(long)


def _without_statistics(tool: Tool) -> Row:
    """With a polish after every tenth visit."""
    first = tool.summary.count + 1 + SPOTS * VISITS
    Entry.objects.bulk_create(
        Entry(
            tool=tool,
            number=first + number,
            kind="polish",
            at=END - timedelta(hours=10 * number + 0.5),
            recorded_at=END,
            link=_LINK,
        )
        for number in range(VISITS // 10)
    )
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM sqlite_stat1")
    connection.close()  # what the database knew of its rows is read once a connection
    row = Row("what is past a limit, without statistics, / the readings of that tool as series", 1)
    return in_turn(row, lambda: past_limits([tool], END), lambda: series(tool, END))


def _read(tool: Tool) -> None:
    first = tool.summary.count + 1
    Entry.objects.bulk_create(
        Entry(
            tool=tool,
            number=first + number,
            kind="reading",
            at=END - timedelta(hours=VISITS - number // SPOTS),
            recorded_at=END,
            link=_LINK,
            payload={
                "quantity": "gloss",
                "unit": "GU",
                "geometry": "60°",
                "spot": f"spot {number % SPOTS}",
                "value": f"{95 - number / 40:.1f}",
            },
        )
        for number in range(SPOTS * VISITS)
    )
