"""What was told to the lead of a tool, until a lead has seen it: whoever starts a lay-up should know it as well."""

from collections.abc import Iterator

from tooling.selectors.lead_notes import MOST
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import PAGE
from tooling.words.told import told_to_lead


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Of the tool itself, and of an insert that is in it."""
    for key, tool in asked.together():
        told = [one for one in asked.read.told if one.tool_id == tool.pk]
        for one in told[:MOST]:
            text = told_to_lead(one, asked.at, asked.shop.zone)
            yield key, Reason("told_to_lead", tool.code, text, deed=PAGE, stops=False)
