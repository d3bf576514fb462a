"""A tool that is to be looked over, after so many pulls or days."""

from collections.abc import Iterator

from tooling.selectors.look_overs import look_overs
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import LOOK
from tooling.words.usable_set import look_at_it, look_over_wanted


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The tool itself, or an insert that is in it."""
    together = list(asked.together())
    tools = {tool.pk: tool for _key, tool in together}
    wanted = look_overs(tools.values(), asked.at, asked.shop.zone)
    today = asked.at.astimezone(asked.shop.zone).date()
    for key, tool in together:
        next_one = wanted.get(tool.pk)
        if next_one is not None and next_one.is_wanted(today):
            late = next_one.day is not None and next_one.day <= today
            text = look_over_wanted(next_one.pulls, late)
            yield key, Reason("look_over_wanted", tool.code, text, look_at_it(), LOOK)
