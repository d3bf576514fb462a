"""What is asked of some tools, and what every family of reasons reads of them: once for all."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from functools import cached_property

from shared.units import METRIC
from tooling.calc.recipe import RecipeBook
from tooling.models import Kind, PartRevision, RecipeVersion, SetLine, Shop, Summary, Tool
from tooling.selectors.release import Surface, surfaces
from tooling.selectors.whereabouts import Whereabouts, whereabouts


class Asked:
    """Some tools, a moment, and the part that they are asked for."""

    def __init__(
        self,
        tools: Iterable[Tool],
        at: datetime,
        *,
        part: str = "",
        revision: PartRevision | None = None,
        film: bool = False,
        units: str = METRIC,
        gathering: bool = False,
    ) -> None:
        """Nothing is read before a family wants it. `gathering`: the tools are yet to be got from where they lie."""
        self.tools = list(tools)
        self.at, self.part, self.film, self.units = at, part.strip(), film, units
        self.gathering = gathering
        self._revision = revision

    @cached_property
    def shop(self) -> Shop:
        """The shop, for its zone."""
        return Shop.current()

    @cached_property
    def surfaces(self) -> dict[int, list[Surface]]:
        """The release surfaces of each tool by its key: its own first, then those of the inserts that are in it."""
        with_surface = [tool for tool in self.tools if tool.kind in Kind.WITH_SURFACE]
        return surfaces(with_surface, self.at, self.part, book=self.book, zone=self.shop.zone)

    @cached_property
    def summaries(self) -> dict[int, Summary]:
        """The summary of every tool and of every insert in one, by its key."""
        keys = {tool.pk for tool in self.tools} | {one.tool.pk for found in self.surfaces.values() for one in found}
        return {one.tool_id: one for one in Summary.objects.filter(tool__in=keys).select_related("tool")}

    @cached_property
    def recipes(self) -> dict[str, RecipeVersion]:
        """The recipes in force, by their codes."""
        begun = (one for one in self._versions if one.valid_from is None or one.valid_from <= self.at)
        return {one.system.code: one for one in begun}

    @cached_property
    def book(self) -> RecipeBook:
        """All recipes, as the rules read them."""
        return RecipeBook(version.as_calc() for version in self._versions)

    @cached_property
    def _versions(self) -> list[RecipeVersion]:
        return list(RecipeVersion.objects.select_related("system").in_order())

    @cached_property
    def revision(self) -> PartRevision | None:
        """That of the part which is asked for, else the newest; None where the shop does not know the part."""
        if self._revision is not None:
            return self._revision
        if not self.part:
            return None
        return PartRevision.objects.filter(part__number__iexact=self.part).newest_first().first()

    @cached_property
    def tool_set(self) -> list[SetLine]:
        """What that revision needs, hardware left out, in the order of the set."""
        if self.revision is None:
            return []
        lines = self.revision.tool_set.exclude(tool=None).select_related("tool__summary").in_order()
        return list(lines)

    @cached_property
    def lines(self) -> dict[int, SetLine]:
        """The same by the keys of the tools."""
        return {line.tool_id: line for line in self.tool_set if line.tool_id is not None}

    @cached_property
    def whereabouts(self) -> dict[int, Whereabouts]:
        """Where each tool is, and each of the set."""
        return whereabouts({tool.pk for tool in self.tools} | self.lines.keys(), self.at)

    def recipe_of(self, surface: Surface) -> RecipeVersion | None:
        """The recipe in force on a surface."""
        return self.recipes.get(surface.state.system or "")

    def together(self) -> Iterator[tuple[int, Tool]]:
        """Every tool that is used with one of the asked: itself, and the inserts that are in it."""
        for tool in self.tools:
            yield tool.pk, tool
            yield from ((tool.pk, one.tool) for one in self.surfaces.get(tool.pk, ()) if one.tool.pk != tool.pk)
