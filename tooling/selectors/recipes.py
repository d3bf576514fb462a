"""The shop's recipes, as the rules read them."""

from tooling.calc.recipe import RecipeBook
from tooling.models import RecipeVersion


def recipe_book() -> RecipeBook:
    """All versions of all recipes."""
    return RecipeBook(version.as_calc() for version in RecipeVersion.objects.select_related("system"))
