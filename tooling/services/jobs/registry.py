"""The kinds of jobs that there are."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from tooling.services.jobs.progress import Outcome, Progress

Function = Callable[[dict[str, Any], Progress], Outcome]
_kinds: dict[str, "Kind"] = {}


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of job: what does it, what it is called on its page, and where one goes on from there."""

    name: str
    function: Function
    title: Any  # lazy words; a later wish of the reader's language decides
    goes_on: Callable[[dict[str, Any]], str] | None


def register(
    kind: str, function: Function, *, title: Any, goes_on: Callable[[dict[str, Any]], str] | None = None
) -> None:
    """Makes a kind known.

    `goes_on` says where the page of an ended one leads, from what it was given, and its number as `job`.
    """
    _kinds[kind] = Kind(kind, function, title, goes_on)


def known(kind: str) -> Kind | None:
    """The kind of that name; None for one that no app knows any more."""
    return _kinds.get(kind)
