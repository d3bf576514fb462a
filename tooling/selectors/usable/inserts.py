"""Mold inserts that were in a mold when a part was last laid up in it, and are not now."""

from collections.abc import Iterator

from tooling.models import Kind, SetRole
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.bench import mend_of_missing
from tooling.selectors.usable.reason import Reason
from tooling.words.usable import insert_out


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Every insert that is missing from a mold. Where the part's tool set names inserts, that decides instead."""
    settled = any(line.role == SetRole.INSERT for line in asked.tool_set)
    for tool in asked.tools:
        if tool.kind not in Kind.TAKES_INSERTS or (settled and tool.pk in asked.lines):
            continue
        last = asked.read.last_inside.get(tool.pk)
        here = {one.tool.pk for one in asked.surfaces[tool.pk]}
        for insert in last.inserts if last is not None else ():
            if insert.pk not in here:
                text = insert_out(tool.code, last.at, asked.at, asked.shop.zone)
                mend, deed = mend_of_missing(asked, insert, tool.code)
                yield tool.pk, Reason("insert_out", insert.code, text, mend, deed)
