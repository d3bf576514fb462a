"""The shop colder or warmer than a release recipe stands, or not measured today where a recipe asks for it."""

from collections.abc import Iterator
from decimal import Decimal

from tooling.models import RecipeVersion, Temperature
from tooling.selectors.temperature import shop_temperature
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import MEASURE
from tooling.words.usable import not_measured, out_of_range, warmth_range


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Each surface whose recipe says how warm it wants the shop; surfaces on one recipe are said once."""
    wanting = {
        (key, recipe.system.code): (surface.tool.code, recipe)
        for key, found in asked.surfaces.items()
        for surface in reversed(found)
        if (recipe := asked.recipe_of(surface)) is not None and _range(recipe) != (None, None)
    }
    if not wanting:
        return
    measured = shop_temperature(asked.at, asked.shop.zone)
    for (key, _recipe), (code, recipe) in wanting.items():
        reason = _not_measured(asked, code, recipe) if measured is None else _measured(asked, code, recipe, measured)
        if reason is not None:
            yield key, reason


def _range(recipe: RecipeVersion) -> tuple[Decimal | None, Decimal | None]:
    return recipe.low_c, recipe.high_c


def _not_measured(asked: Asked, code: str, recipe: RecipeVersion) -> Reason:
    wants = warmth_range(recipe.system.code, *_range(recipe), asked.units)
    return Reason("shop_not_measured", code, not_measured(), wants, MEASURE, stops=False)


def _measured(asked: Asked, code: str, recipe: RecipeVersion, measured: Temperature) -> Reason | None:
    low, high = _range(recipe)
    cold = low is not None and measured.value_c < low
    if not cold and not (high is not None and measured.value_c > high):
        return None
    text = out_of_range(measured.value_c, measured.at, asked.units, asked.at, asked.shop.zone)
    wants = warmth_range(recipe.system.code, low, high, asked.units)
    return Reason("shop_cold" if cold else "shop_hot", code, text, wants, MEASURE)
