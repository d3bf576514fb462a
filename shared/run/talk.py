"""Sentences to the person at the keyboard."""

import sys
from typing import NoReturn


def say(sentence: str) -> None:
    """Print it at once, also into a file or a pipe."""
    print(sentence, flush=True)


def stop(sentence: str) -> NoReturn:
    """End with a sentence that says what to do."""
    print(sentence, file=sys.stderr, flush=True)
    raise SystemExit(1)
