"""What else is measured of tools of a kind, on pages of another app."""

from collections import defaultdict
from dataclasses import dataclass

from django.utils.functional import Promise


@dataclass(frozen=True, slots=True)
class More:
    """What it is called, and the name of its address, which takes the code of the tool."""

    word: str | Promise
    name: str


_more: dict[str, list[More]] = defaultdict(list)


def register(kind: str, more: More) -> None:
    """Adds a page of tools of a kind; none is added twice."""
    if more not in _more[kind]:
        _more[kind].append(more)


def of_kind(kind: str) -> list[More]:
    """Those of a kind."""
    return list(_more.get(kind, ()))
