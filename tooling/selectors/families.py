"""Of which family the recipe on a surface is, at any moment: the word that its coats are said with."""

from collections.abc import Iterable
from datetime import datetime

from tooling.models import Shop, Summary
from tooling.selectors.history import History
from tooling.selectors.recipes import recipe_book


def families(surfaces: Iterable[int], at: datetime, known_at: datetime | None = None) -> dict[int, str]:
    """The families by surface; without a recipe there is none.

    Where nothing lies behind `at` the stored states answer; else, and for `known_at`, histories are folded.
    """
    book = recipe_book()
    history = History(book, Shop.current().zone, at, known_at)
    summaries = list(Summary.objects.select_related("tool__release_system").filter(tool__in=set(surfaces)))
    past = {one.tool_id for one in summaries if known_at is not None or (one.last_at is not None and one.last_at > at)}
    history.read(past)
    found = {}
    for one in summaries:
        system = history.folded(one.tool).state.system if one.tool_id in past else one.state.get("system")
        recipe = book.at(system, at) if system else None
        if recipe is not None:
            found[one.tool_id] = recipe.family
    return found
