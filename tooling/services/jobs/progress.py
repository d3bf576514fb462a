"""What a job gets to work with, and what it gives back."""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tooling.services.jobs.board import Board, Told

_OFTEN = 0.25  # seconds: how often the page is told, and the wish to cancel is looked for


class Cancelled(Exception):
    """Somebody wants this job to end. Raised by `Progress.say`, to be let through."""


class Interrupted(Exception):
    """The program ends while a job runs, or its turn is lost. Raised by `Progress.say`, to be let through."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a job: a sentence, and the file in its folder that may be fetched."""

    words: str
    file: Path | None = None


class Progress:
    """How far a job is, and whether it may go on."""

    def __init__(self, board: Board, folder: Path, ending: threading.Event, is_kept: Callable[[], bool]) -> None:
        """`folder` is the job's own; `ending` is set when the program is told to end; `is_kept` says of the turn."""
        self.folder = folder
        self._board, self._ending, self._is_kept = board, ending, is_kept
        self._told = Told()
        self._looked_at = 0.0
        self._is_final = False

    def say(self, done: int, of: int, words: str) -> None:
        """Tells how far it is: so many of so many (of 0: nobody knows), and what it is at. Raises Cancelled."""
        told = Told(done, of, words, self._is_final)
        moved_on = words != self._told.words or (done >= of > 0)
        if not moved_on and time.monotonic() - self._looked_at < _OFTEN:
            return
        self._may_go_on()
        self._told = told
        self._board.tell(told)

    def no_way_back(self, words: str) -> None:
        """From here on it is written: the last moment at which it can be cancelled. Raises Cancelled."""
        self._may_go_on()
        self._is_final = True
        self._told = Told(0, 0, words, is_final=True)
        self._board.tell(self._told)

    def _may_go_on(self) -> None:
        self._looked_at = time.monotonic()
        if not self._is_kept():
            raise Interrupted
        if self._is_final:
            return
        if self._ending.is_set():
            raise Interrupted
        if self._board.is_cancel_asked():
            raise Cancelled
