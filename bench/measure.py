"""Two things measured in turn, so that a busy machine slows both alike. Only their ratio says something."""

import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import asdict, dataclass, field
from statistics import median
from typing import Any

from django.db import connection

Statement = tuple[str, Any]
Clock = Callable[[], float]
WARM = 2


@dataclass
class Row:
    """One line of the table: what was measured, each run in seconds, and the most that the ratio may be."""

    what: str
    target: float | None
    figure: list[float] = field(default_factory=list)
    floor: list[float] = field(default_factory=list)
    # where something else than the ratio decides: whether it held
    held: bool | None = None

    def as_json(self) -> dict[str, Any]:
        return asdict(self)

    @property
    def ratio(self) -> float:
        return median(self.figure) / median(self.floor)


def in_turn(
    row: Row, program: Callable[[], Any], floor: Callable[[], Any], rounds: int = 9, clock: Clock = time.process_time
) -> Row:
    """Fills the row with runs of both; the first two only warm up."""
    for number in range(-WARM, rounds):
        took, floor_took = seconds(program, clock), seconds(floor, clock)
        if number >= 0:
            row.figure.append(took)
            row.floor.append(floor_took)
    return row


def seconds(work: Callable[[], Any], clock: Clock = time.process_time) -> float:
    """What the work took. By default its computing time: what other programs do meanwhile does not count.

    Where the disk is waited for, time.perf_counter is the clock.
    """
    began = clock()
    work()
    return clock() - began


class Statements:
    """Keeps the statements that the program sends to the database while it is listening."""

    def __init__(self) -> None:
        self.kept: list[Statement] = []

    def listen(self) -> AbstractContextManager[None]:
        self.kept.clear()
        return connection.execute_wrapper(self._keep)

    def _keep(self, execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        self.kept.append((sql, params))
        return execute(sql, params, many, context)


def to_sqlite(sql: str) -> str:
    """A statement of Django's as sqlite3 takes it."""
    return sql.replace("%%", "\0").replace("%s", "?").replace("\0", "%")
