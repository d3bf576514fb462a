"""Logging one pull: the whole deed, beside its writes alone in one raw transaction on a twin of the database."""

import sqlite3
import time
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import cycle, islice
from pathlib import Path
from typing import Any
from uuid import uuid4

from django.db import connection

from bench import shops
from bench.measure import Row, Statements, seconds, to_sqlite
from bench.synth.catalogue import LONG, SHORT
from bench.synth.make import END
from shared import clock
from tooling.models import Entry, Person, Span, Tool
from tooling.services import deeds

ROUNDS, WARM = 60, 10


def measure() -> Iterator[Row]:
    """With and without waiting for the disk; then a long history beside a short one."""
    molds = usable_molds()
    for mode in ("FULL", "OFF"):
        yield against_its_writes(molds, mode)
    yield long_beside_short()


def against_its_writes(molds: Sequence[Tool], mode: str) -> Row:
    """The deed through the service; then the statements it wrote, on the twin, which so stays one."""
    row = Row(f"log one pull, synchronous={mode}", 8)
    timer = time.perf_counter if mode == "FULL" else time.process_time
    set_synchronous(mode)
    raw, heard, hand = twin(mode), Statements(), Hand()
    for number, mold in enumerate(islice(cycle(molds), WARM + ROUNDS), -WARM):
        with heard.listen():
            took = seconds(lambda mold=mold: hand.pull(mold), timer)
        floor = seconds(lambda: write(raw, heard), timer)
        if number >= 0:
            row.figure.append(took)
            row.floor.append(floor)
    raw.close()
    return row


def long_beside_short() -> Row:
    """The same deed on a mold with 5,000 entries and on one with 50; nothing else differs."""
    row = Row("log one pull on a tool with 5,000 entries / 50", 1.1)
    set_synchronous("OFF")
    hand = Hand()
    molds = [Tool.objects.order_by("pk")[number] for number in (LONG, SHORT)]
    for mold in molds:
        hand.prepare(mold)
    for number in range(-WARM, ROUNDS):
        took = [seconds(lambda mold=mold: hand.pull(mold)) for mold in molds]
        if number >= 0:
            row.figure.append(took[0])
            row.floor.append(took[1])
    return row


class Hand:
    """One person's deeds, a minute apart, after everything that the shop has seen."""

    def __init__(self) -> None:
        self.person = Person.objects.order_by("pk").first()
        self.now = max(END, Entry.objects.latest("id").at)

    def pull(self, mold: Tool) -> None:
        self._do(deeds.log_pull, mold, came_off="free", token=uuid4())

    def prepare(self, mold: Tool) -> None:
        """Stripped, waxed and free to use."""
        self._do(deeds.strip, mold)
        self._do(deeds.log_coat, mold, count=5)
        self._do(deeds.inspect, mold, passed=True)

    def _do(self, deed: Any, mold: Tool, **said: Any) -> None:
        self.now += timedelta(minutes=1)
        with clock.set_to(self.now):
            deed(mold, by=self.person, recorded_by=self.person, **said)


def usable_molds(at: datetime = END) -> list[Tool]:
    """Molds without inserts that may be used now: the ordinary case."""
    spans = Span.objects.at(at).filter(status__in=["ready", "last_pull"], tool__kind="mold", tool__installed=None)
    return [span.tool for span in spans.select_related("tool").order_by("tool_id")[:ROUNDS]]


def twin(mode: str) -> sqlite3.Connection:
    """A copy of the database as it is now, open for raw statements."""
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    raw = sqlite3.connect(shops.copy(Path(connection.settings_dict["NAME"]), "twin"), isolation_level=None)
    for pragma in ("journal_mode=WAL", f"synchronous={mode}", "foreign_keys=ON"):
        raw.execute(f"PRAGMA {pragma}")
    return raw


def set_synchronous(mode: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA synchronous={mode}")


def write(raw: sqlite3.Connection, heard: Statements) -> None:
    """What the deed wrote, and nothing that it read."""
    raw.execute("BEGIN IMMEDIATE")
    for sql, params in heard.kept:
        if sql.startswith(("INSERT", "UPDATE", "DELETE")):
            raw.execute(to_sqlite(sql), params or ()).fetchall()
    raw.execute("COMMIT")
