"""A tool that is to be looked over, after so many pulls or days."""

from collections.abc import Iterator

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import LOOK
from tooling.words.usable_set import look_at_it, look_over_wanted


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The tool itself, or an insert that is in it."""
    today = asked.at.astimezone(asked.shop.zone).date()
    for key, tool in asked.together():
        next_one = asked.read.look_over(tool)
        if next_one is not None and next_one.is_wanted(today):
            late = next_one.day is not None and next_one.day <= today
            text = look_over_wanted(next_one.pulls, late, of_cuts=next_one.of_cuts)
            yield key, Reason("look_over_wanted", tool.code, text, look_at_it(), LOOK)
