"""What another app says where a tool of its kind is looked at before it is freed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from tooling.models import Person
from tooling.selectors.floor import Floor


@dataclass(frozen=True, slots=True)
class Beside:
    """A fragment with what it shows."""

    template: str
    context: Mapping[str, Any]


Makes = Callable[[Floor, Person], Beside]
_beside: dict[str, Makes] = {}


def register(kind: str, makes: Makes) -> None:
    """What is said of tools of a kind."""
    _beside[kind] = makes


def beside(on: Floor, person: Person) -> Beside | None:
    """Of one tool, for whoever looks at it; None for most kinds."""
    makes = _beside.get(on.tool.kind)
    return makes(on, person) if makes is not None else None
