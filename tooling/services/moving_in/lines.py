"""Lines in a list of tools that are none: a heading between them, a total below them."""

import re

from tooling.services.moving_in.matching import Match
from tooling.services.sheets.cells import Broken, Cell, shown

_TOTAL = re.compile(r"(?:grand |sub-?)?(?:total|sum)s?[^A-Za-z0-9]*", re.IGNORECASE)
_RULE = re.compile(r"[-=_*#~.]{2,}")


def no_tool(one: Match, filled: dict[str, Cell]) -> str:
    """What stands in a line that is likely no tool; "" where it is one. `filled`: its cells by column of ours."""
    texts = {name: shown(cell).strip() for name, cell in filled.items() if not isinstance(cell, Broken)}
    total = next((text for name, text in texts.items() if name in ("code", "name") and _TOTAL.fullmatch(text)), "")
    if total or len(filled) != 1 or not texts:
        return total
    ((name, text),) = texts.items()
    # where the sheet says what all of them are, a code alone is a tool
    return text if name != "code" or not one.kind or _RULE.match(text) else ""
