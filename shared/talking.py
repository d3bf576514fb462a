"""How a command says how far it is."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any


@contextmanager
def progress_line(stream: Any) -> Iterator[Callable[[int, int, str], None]]:
    """Inside, so many of so many with a few words stand on one line of a terminal; elsewhere nothing is written."""
    shown = stream.isatty()

    def tell(done: int, of: int, words: str) -> None:
        share = f" {100 * done // of} %" if of else ""
        _write(stream, f"{words}{share}")

    try:
        yield tell if shown else _nothing
    finally:
        if shown:
            _write(stream, "")


def _write(stream: Any, text: str) -> None:
    stream.write(f"\r\033[K{text}", ending="")
    stream.flush()


def _nothing(done: int, of: int, words: str) -> None:
    """Nobody looks."""
