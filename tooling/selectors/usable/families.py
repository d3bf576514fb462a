"""The families of reasons that every shop has, in the order in which they are said."""

from tooling.selectors.usable import (
    confirmed,
    halves,
    hand,
    heat,
    inserts,
    look_over,
    making,
    not_before,
    reading,
    set_inserts,
    shop_warmth,
    surfaces,
    told,
    vacuum,
    where,
)
from tooling.selectors.usable.registry import register


def make_known() -> None:
    """Called when the program starts."""
    for family in (
        making, surfaces, inserts, set_inserts, halves, hand, heat, not_before, where, confirmed, look_over,
        shop_warmth, vacuum, reading, told,
    ):  # fmt: skip
        register(family.reasons)
