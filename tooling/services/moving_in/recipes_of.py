"""The recipe of all molds, plugs or inserts in whose line none stands."""

from dataclasses import dataclass, field
from typing import Any

from tooling.models import Kind, Tool
from tooling.services.moving_in.matching import RECIPE_OF
from tooling.services.sheets.cells import Cell, folded


@dataclass
class Recipes:
    """By kind, as somebody said it of an upload."""

    of: dict[str, str] = field(default_factory=dict)
    _there: dict[str, str | None] = field(default_factory=dict)

    @classmethod
    def said_in(cls, given: dict[str, Any]) -> "Recipes":
        """What was said of this upload."""
        said = {kind: given.get(f"{RECIPE_OF}{kind}", "") for kind in Kind.WITH_SURFACE}
        said = {kind: recipe for kind, recipe in said.items() if recipe}
        return cls(said, dict(Tool.objects.values_list("code", "release_system__code")) if said else {})

    def fill(self, values: dict[str, Cell]) -> None:
        """Fills in that of one tool; one that is in the shop already keeps what it has."""
        if not self.of or values.get("release_system") is not None:
            return
        code = str(values.get("code") or "").strip().upper()
        said = self.of.get(folded(str(values.get("kind") or "")))
        values["release_system"] = self._there.get(code, said)
