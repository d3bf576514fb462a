"""The count of a rack of 500 tools: its page beside a raw fetch of its rows, and its end beside plain lines of it."""

import sqlite3
from collections.abc import Iterator

from django.db import connection, transaction

from bench.measure import Row, in_turn
from bench.rows.racks import FETCH, laden
from bench.synth.make import END
from shared import clock
from tooling.models import Place, PlaceCount, Summary
from tooling.selectors.place_counts import as_it_stands
from tooling.selectors.place_tree import below
from tooling.services import place_counts


def measure() -> Iterator[Row]:
    """Nothing was met: all of it is looked for, and missing at the end."""
    rack = laden()
    count = place_counts.begin(rack, by=None, at=END)
    places = list(below([rack.pk]))
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    sql = FETCH.format(places=", ".join("?" * len(places)))
    looked_for = len(as_it_stands(count).to_miss)
    what = f"count of a rack of {looked_for} tools, none of them met"
    yield in_turn(Row(what, 15), lambda: as_it_stands(count), lambda: raw.execute(sql, places).fetchall(), rounds=21)
    with clock.set_to(END):
        what = f"end of that count, {looked_for} missing / the same moves one by one"
        yield in_turn(Row(what, 1.5), lambda: _ended(rack), lambda: _moved(rack), rounds=1)


def _ended(rack: Place) -> None:
    with transaction.atomic():
        place_counts.end(PlaceCount.objects.get(place=rack), by=None, recorded_by=None)
        transaction.set_rollback(True)


def _moved(rack: Place) -> None:
    lies = Summary.objects.filter(lies__in=below([rack.pk])).select_related("tool")
    with transaction.atomic():
        for summary in lies:
            place_counts.deeds.move(summary.tool, place=None, by=None, recorded_by=None)
        transaction.set_rollback(True)
