"""Whether a cut spoiled the part, by what is said of the cut."""

from collections.abc import Mapping
from typing import Any

from tooling.calc.entry import SPOILING


def is_spoilt(said: Mapping[str, Any]) -> bool:
    """Whether the part of a cut is to be looked at: it gouged or slipped, and not into the trim mask alone.

    Parameters:
        said [-]: what is said of the cut, by the names of an entry.

    Returns:
        [-] true until somebody says that only the trim mask was cut into.

    Source: the house's own rule.
    """
    return said.get("outcome") in SPOILING and said.get("part_damaged") is not False


def is_lost(said: Mapping[str, Any]) -> bool:
    """Whether nothing more comes of the part of a cut.

    Parameters:
        said [-]: what is said of the cut, by the names of an entry.

    Returns:
        [-] true where it spoiled the part, and somebody said that the part did not pass.

    Source: the house's own rule.
    """
    return is_spoilt(said) and said.get("passed") is False
