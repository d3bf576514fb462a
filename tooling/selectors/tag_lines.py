"""Further lines on the tags of tools, of which only another app knows."""

from collections.abc import Callable, Collection, Mapping

# For tools, by their keys, in the units of a person: what each of them that has one says in a line of its own.
Lines = Callable[[Collection[int], str], Mapping[int, str]]
_lines: list[Lines] = []


def register(lines: Lines) -> None:
    """Adds lines below those that there are; what is known already is not added twice."""
    if lines not in _lines:
        _lines.append(lines)


def registered() -> tuple[Lines, ...]:
    """All of them, in the order in which they stand on a tag."""
    return tuple(_lines)
