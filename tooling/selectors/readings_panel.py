"""What the page of a tool shows of its readings: where they are going, in short, with the way to all of them."""

from tooling.models import Person
from tooling.selectors.panels import Panel
from tooling.selectors.readings import series
from tooling.selectors.tool import ToolPage
from tooling.selectors.trend_shown import trend_of
from tooling.words import trends as words

SHEETS = ("face/trends.css",)
# Those with a limit come first; the others have a page of their own.
_MOST = 2


def panel(shown: ToolPage, person: Person) -> Panel | None:
    """None for a tool of which nothing was read."""
    kind = shown.tool.kind
    found = sorted(series(shown.tool, shown.at), key=lambda one: (one.limit is None, -one.last.at.timestamp()))
    if not found:
        return None
    lines = []
    for one in found[:_MOST]:
        sentence = words.sentence(one, kind, person.units, shown.at, shown.shop.zone) if one.limit is not None else ""
        last = words.last_said(one, kind, person.units, shown.at, shown.shop.zone)
        drawn = trend_of(one, kind, person.units, f"{sentence} {last}".strip()) if len(one.visits) > 1 else None
        lines.append({"name": words.named(one), "sentence": sentence, "last": last, "trend": drawn})
    return Panel("tooling/_readings_panel.html", {"lines": lines}, sheets=SHEETS)
