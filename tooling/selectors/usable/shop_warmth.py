"""The shop colder or warmer than a release recipe stands, or not measured today where a recipe asks for it."""

from collections.abc import Iterator

from tooling.models import RecipeVersion, Temperature, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import MEASURE
from tooling.words.usable import not_measured, out_of_range, warmth_range


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """One for each tool, with every recipe on it and on the inserts in it that wants the shop otherwise."""
    wanting = {tool.pk: _with_range(asked, tool) for tool in asked.tools}
    if not any(wanting.values()):
        return
    measured = asked.read.temperature
    for tool in asked.tools:
        recipes = wanting[tool.pk]
        if measured is None and recipes:
            yield (
                tool.pk,
                Reason("shop_not_measured", tool.code, not_measured(), _want(asked, recipes), MEASURE, stops=False),
            )
        elif measured is not None:
            yield from ((tool.pk, one) for one in _out_of_range(asked, tool, recipes, measured))


def _with_range(asked: Asked, tool: Tool) -> list[RecipeVersion]:
    """The recipes of a tool's surfaces that say how warm the shop is to be, each once."""
    recipes = (asked.recipe_of(surface) for surface in asked.surfaces.get(tool.pk, ()))
    known = {one.pk: one for one in recipes if one is not None and (one.low_c, one.high_c) != (None, None)}
    return list(known.values())


def _out_of_range(asked: Asked, tool: Tool, recipes: list[RecipeVersion], measured: Temperature) -> Iterator[Reason]:
    celsius = measured.value_c
    cold = [one for one in recipes if one.low_c is not None and celsius < one.low_c]
    hot = [one for one in recipes if one.high_c is not None and celsius > one.high_c]
    text = out_of_range(celsius, measured.at, asked.units, asked.at, asked.shop.zone)
    for code, wanting in (("shop_cold", cold), ("shop_hot", hot)):
        if wanting:
            yield Reason(code, tool.code, text, _want(asked, wanting), MEASURE)


def _want(asked: Asked, recipes: list[RecipeVersion]) -> str:
    """How warm they want it, in sentences."""
    return " ".join(warmth_range(one.system.code, one.low_c, one.high_c, asked.units) for one in recipes)
