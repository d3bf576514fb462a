"""What clears a tool for good: a look-over that it passed; another app says what that is for its kind."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Looks:
    """The kinds of entries that clear a tool where they passed, and those that say it began good."""

    kinds: frozenset[str] = frozenset({"inspected"})
    first: frozenset[str] = frozenset({"accepted"})


_USUAL = Looks()
_of: dict[str, Looks] = {}


def register(kind: str, looks: Looks) -> None:
    """What clears tools of a kind."""
    _of[kind] = looks


def looks_of(kind: str) -> Looks:
    """That of tools of a kind."""
    return _of.get(kind, _USUAL)
