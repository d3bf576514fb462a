"""How far a new shop has come: a place, a recipe, a tool, and how that tool stands."""

from dataclasses import dataclass

from tooling.models import Place, ReleaseSystem, Tool


@dataclass(frozen=True, slots=True)
class Steps:
    """What is there: codes of the first places and recipes, and the only tool."""

    places: list[str]
    recipes: list[str]
    tool: Tool | None

    @property
    def next(self) -> str:
        """The first step that is not done."""
        if self.tool is not None:
            return "state"
        return "tool" if self.places and self.recipes else "recipe" if self.places else "place"


_NAMED = 4


def first_steps() -> Steps | None:
    """How far it is; None where the steps are behind: a second tool, or a history."""
    tools = list(Tool.objects.select_related("summary")[:2])
    if len(tools) > 1 or any(_has_begun(tool) for tool in tools):
        return None
    places = list(Place.objects.order_by("pk").values_list("code", flat=True)[:_NAMED])
    recipes = list(ReleaseSystem.objects.order_by("pk").values_list("code", flat=True)[:_NAMED])
    return Steps(places, recipes, tools[0] if tools else None)


def _has_begun(tool: Tool) -> bool:
    return tool.summary.count > 0 or tool.summary.making or not tool.has_surface
