"""The parts in doubt of a mold with 5,000 entries beside a raw fetch of them; those of a lot as well."""

import sqlite3
from collections.abc import Iterator

from django.db import connection

from bench.measure import Row, in_turn
from bench.synth.catalogue import LONG
from bench.synth.make import END
from shared import clock
from tooling.models import Tool
from tooling.selectors.containment.doubts import Doubt, doubt_of
from tooling.selectors.containment.lines import tell_more
from tooling.selectors.containment.made_since import lot_made, made_since
from tooling.services import deeds

SHOWN = 60
FETCH = "SELECT * FROM tooling_entry WHERE tool_id = ? ORDER BY number"
LOTS = "SELECT id FROM tooling_entry WHERE json_type(payload, '$.lot') IS NOT NULL"


def measure() -> Iterator[Row]:
    """A hold of now on the longest history, nobody having looked before: all that was ever made is in doubt."""
    mold = Tool.objects.order_by("pk")[LONG]
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    with clock.set_to(END):
        held = deeds.hold(mold, by=None, recorded_by=None)
        deeds.log_coat(mold, by=None, recorded_by=None, lot="bench")
    doubt = doubt_of(mold.code, held.number)
    assert doubt is not None
    entries = len(raw.execute(FETCH, [mold.pk]).fetchall())
    what = f"parts in doubt of a mold with {entries} entries, a page of {SHOWN} / its rows"
    yield in_turn(Row(what, 15), lambda: _page(doubt), lambda: raw.execute(FETCH, [mold.pk]).fetchall(), rounds=9)
    what = "parts of a lot on that mold / all entries looked through for a lot, and its rows"
    yield in_turn(Row(what, 8), lambda: lot_made("bench", END), lambda: _fetched(raw, mold), rounds=9)


def _fetched(raw: sqlite3.Connection, mold: Tool) -> None:
    raw.execute(LOTS).fetchall()
    raw.execute(FETCH, [mold.pk]).fetchall()


def _page(doubt: Doubt) -> None:
    tell_more(made_since(doubt, END).lines[:SHOWN])
