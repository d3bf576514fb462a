"""Long sequences some at a time: a database takes no endless list of keys, and memory has its end."""

from collections.abc import Iterator, Sequence
from typing import TypeVar

Item = TypeVar("Item")


def in_pieces(every: Sequence[Item], size: int) -> Iterator[Sequence[Item]]:
    """All of it in its order, `size` at a time, the last piece as long as what is left."""
    return (every[start : start + size] for start in range(0, len(every), size))
