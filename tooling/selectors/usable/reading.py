"""What was read last and is past the shop's own limit: to know. It never stops: no published number is behind it."""

from collections.abc import Iterator

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import READING
from tooling.words.trends import past_limit_said


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The tool itself, or an insert that is in it."""
    for key, tool in asked.together():
        for one in asked.read.past_limits.get(tool.pk, ()):
            text = past_limit_said(one, asked.units, asked.at, asked.shop.zone)
            yield key, Reason("reading_past_limit", tool.code, text, deed=READING, stops=False)
