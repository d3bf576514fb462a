"""What is asked of some tools, and what every family of reasons reads of them: once for all."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from functools import cached_property

from shared.units import METRIC
from tooling.calc.status import status_of
from tooling.models import PartRevision, RecipeVersion, SetLine, Shop, Tool
from tooling.selectors.release import Surface
from tooling.selectors.usable.read import Read
from tooling.selectors.whereabouts import Whereabouts

# Words of a part's process that say that it is bagged.
_BAGGED = ("vacuum", "bag", "infus", "autoclave", "prepreg")


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
        read: Read | None = None,
    ) -> None:
        """Nothing is read before a family wants it. `gathering`: the tools are yet to be got from where they lie.

        read: what was read of these tools, and of those of the tool set, for several questions of one moment.
        """
        self.tools = list(tools)
        self.at, self.part, self.film, self.units = at, part.strip(), film, units
        self.gathering = gathering
        self._revision, self._read = revision, read

    @cached_property
    def read(self) -> Read:
        """What is known of these tools and of those of the set."""
        if self._read is not None:
            return self._read
        of_set = (line.tool for line in self.tool_set if line.tool is not None)
        return Read([*of_set, *self.tools], self.at, vacuum=bagged(self.revision))

    @property
    def shop(self) -> Shop:
        """The shop, for its zone."""
        return self.read.shop

    @cached_property
    def surfaces(self) -> dict[int, list[Surface]]:
        """The release surfaces of each tool, with the part's own number of pulls where it has one on them."""
        every = self.read.surfaces
        return {tool.pk: list(map(self._for_part, every[tool.pk])) for tool in self.tools if tool.pk in every}

    def _for_part(self, one: Surface) -> Surface:
        if not (self.part and one.state.part_n):
            return one
        status = status_of(one.state, one.tool.pk, self.read.book, self.shop.zone, self.at, self.part)
        return replace(one, status=status)

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

    @property
    def whereabouts(self) -> dict[int, Whereabouts]:
        """Where each tool is, and each of the set."""
        return self.read.whereabouts

    def recipe_of(self, surface: Surface) -> RecipeVersion | None:
        """The recipe in force on a surface."""
        return self.read.recipes.get(surface.state.system or "")

    def together(self) -> Iterator[tuple[int, Tool]]:
        """Every tool that is used with one of the asked: itself, and the inserts that are in it."""
        for tool in self.tools:
            yield tool.pk, tool
            yield from ((tool.pk, one.tool) for one in self.surfaces.get(tool.pk, ()) if one.tool.pk != tool.pk)


def bagged(revision: PartRevision | None) -> bool:
    """Whether the part is made under vacuum, as the words of its process say."""
    return revision is not None and any(word in revision.process.casefold() for word in _BAGGED)
