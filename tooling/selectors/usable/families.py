"""The families of reasons that every shop has, in the order in which they are said."""

from tooling.selectors.usable import heat, inserts, making, not_before, shop_warmth, surfaces, told, vacuum
from tooling.selectors.usable.registry import register


def make_known() -> None:
    """Called when the program starts."""
    for family in (making, surfaces, inserts, heat, not_before, shop_warmth, vacuum, told):
        register(family.reasons)
