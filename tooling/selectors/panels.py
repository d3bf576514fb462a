"""What another app shows on the page of a tool of its kind, above all that every tool has there."""

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from tooling.models import Person
from tooling.selectors.tool import ToolPage
from tooling.words.status import Sentence


@dataclass(frozen=True, slots=True)
class Panel:
    """A fragment with what it shows, and the stylesheets it wants of the page.

    said: how the tool stands, where its surface says nothing of that; `over`: it says more than that does.
    """

    template: str
    context: Mapping[str, Any]
    said: Sentence | None = None
    sheets: tuple[str, ...] = ()
    over: bool = False


# None where there is nothing to show of this tool.
Makes = Callable[[ToolPage, Person], Panel | None]
_panels: dict[str, list[Makes]] = defaultdict(list)


def register(kind: str, panel: Makes) -> None:
    """Adds a panel to the pages of tools of a kind, below those that there are; none is added twice."""
    if panel not in _panels[kind]:
        _panels[kind].append(panel)


def panels(shown: ToolPage, person: Person) -> list[Panel]:
    """Those of a tool, for whoever reads its page."""
    made = (panel(shown, person) for panel in _panels.get(shown.tool.kind, ()))
    return [one for one in made if one is not None]
