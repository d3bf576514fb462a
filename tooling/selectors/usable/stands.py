"""How a tool stands that may be used, where it has no release surface to say so: by the word of the app that knows."""

from collections.abc import Callable, Mapping

from tooling.selectors.usable.asked import Asked

# By the key of a tool, what stands behind the word usable: whole sentences.
Stands = Callable[[Asked], Mapping[int, str]]
_stands: list[Stands] = []


def register(stands: Stands) -> None:
    """Adds what an app says of its tools; what is known already is not added twice."""
    if stands not in _stands:
        _stands.append(stands)


def stands(asked: Asked) -> dict[int, str]:
    """How each of the tools stands of which an app says anything."""
    return {key: said for one in _stands for key, said in one(asked).items()}
