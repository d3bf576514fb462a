"""A tool that is not to be used before a day."""

from collections.abc import Iterator

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import CHANGE
from tooling.words.usable import not_before, until_day


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The tool itself, or an insert that is in it."""
    today = asked.at.astimezone(asked.shop.zone).date()
    for key, tool in asked.together():
        if tool.not_before is not None and today < tool.not_before:
            text, mend = not_before(tool.not_before, today), until_day(tool.not_before, today)
            yield key, Reason("not_before", tool.code, text, mend, CHANGE)
