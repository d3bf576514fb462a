"""The cautions of the work with tools of a kind, where only another app knows how that work is done."""

from collections.abc import Callable, Collection

from tooling.words.cautions import Caution

# For tools of the kind, by their keys: one for the work itself, then of what else belongs to it.
Cautions = Callable[[Collection[int]], list[Caution]]
_of_kinds: dict[str, Cautions] = {}


def register(kind: str, cautions: Cautions) -> None:
    """Makes known what is said of a kind; the last one counts."""
    _of_kinds[kind] = cautions


def at_work(kind: str, tools: Collection[int]) -> list[Caution]:
    """What is said of the work with all these tools of a kind together; nothing where no app knows of it."""
    cautions = _of_kinds.get(kind)
    return cautions(tools) if cautions is not None and tools else []
