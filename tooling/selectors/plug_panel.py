"""What the page of a plug shows of how it was milled: in short, with the way to its record."""

from tooling.models import Person
from tooling.selectors.panels import Panel
from tooling.selectors.plug import passes_of, record_of
from tooling.selectors.tool import ToolPage
from tooling.words.plug import in_short


def panel(shown: ToolPage, person: Person) -> Panel:
    """In the units of whoever reads the page."""
    milled = in_short(record_of(shown.tool), passes_of(shown.tool), person.units)
    return Panel("tooling/_plug_panel.html", {"milled": milled})
