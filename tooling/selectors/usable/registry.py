"""The families of reasons that there are, in the order in which they are said."""

from collections.abc import Callable, Iterable

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason

Family = Callable[[Asked], Iterable[tuple[int, Reason]]]
_families: list[Family] = []


def register(family: Family) -> None:
    """Adds a family behind those that there are; one that is known already is not added twice."""
    if family not in _families:
        _families.append(family)


def families() -> tuple[Family, ...]:
    """All families."""
    return tuple(_families)
