"""The order in which people number things: 2 before 10, without regard to case."""

import re

_DIGITS = re.compile(r"(\d+)")


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """A key to sort names by: words by their letters, numbers in them by how large they are."""
    pieces = _DIGITS.split(name.casefold())
    numbers = (piece.lstrip("0") if place % 2 else piece for place, piece in enumerate(pieces))
    return tuple((len(piece) if place % 2 else 0, piece) for place, piece in enumerate(numbers))
