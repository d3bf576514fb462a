"""What is asked of some tools, and what every family of reasons reads of them: once for all."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from functools import cached_property

from shared.units import METRIC
from tooling.calc.recipe import RecipeBook
from tooling.models import Kind, PartRevision, RecipeVersion, Shop, Summary, Tool
from tooling.selectors.recipes import in_force
from tooling.selectors.release import Surface, surfaces


class Asked:
    """Some tools, a moment, and the part that they are asked for."""

    def __init__(
        self, tools: Iterable[Tool], at: datetime, *, part: str = "", film: bool = False, units: str = METRIC
    ) -> None:
        """Nothing is read before a family wants it."""
        self.tools = list(tools)
        self.at, self.part, self.film, self.units = at, part.strip(), film, units

    @cached_property
    def shop(self) -> Shop:
        """The shop, for its zone."""
        return Shop.current()

    @cached_property
    def surfaces(self) -> dict[int, list[Surface]]:
        """The release surfaces of each tool by its key: its own first, then those of the inserts that are in it."""
        return surfaces((tool for tool in self.tools if tool.kind in Kind.WITH_SURFACE), self.at, self.part)

    @cached_property
    def summaries(self) -> dict[int, Summary]:
        """The summary of every tool and of every insert in one, by its key."""
        keys = {tool.pk for tool in self.tools} | {one.tool.pk for found in self.surfaces.values() for one in found}
        return {one.tool_id: one for one in Summary.objects.filter(tool__in=keys).select_related("tool")}

    @cached_property
    def recipes(self) -> dict[str, RecipeVersion]:
        """The recipes in force, by their codes."""
        return in_force(self.at)

    @cached_property
    def book(self) -> RecipeBook:
        """The same as the rules read them."""
        return RecipeBook(version.as_calc() for version in self.recipes.values())

    @cached_property
    def revision(self) -> PartRevision | None:
        """The newest revision of the part; None where none is asked for, or the shop does not know it."""
        if not self.part:
            return None
        return PartRevision.objects.filter(part__number__iexact=self.part).newest_first().first()

    def recipe_of(self, surface: Surface) -> RecipeVersion | None:
        """The recipe in force on a surface."""
        return self.recipes.get(surface.state.system or "")

    def together(self) -> Iterator[tuple[int, Tool]]:
        """Every tool that is used with one of the asked: itself, and the inserts that are in it."""
        for tool in self.tools:
            yield tool.pk, tool
            yield from ((tool.pk, one.tool) for one in self.surfaces.get(tool.pk, ()) if one.tool.pk != tool.pk)
