"""What the page of a plug shows of how it was milled: in short, with the way to its record."""

from tooling.models import Person
from tooling.selectors.panels import Panel
from tooling.selectors.plug import plug_of
from tooling.selectors.tool import ToolPage
from tooling.words.plug import in_short


def panel(shown: ToolPage, person: Person) -> Panel:
    """In the units of whoever reads the page."""
    of = plug_of(shown.tool, shown.at)
    return Panel("tooling/_plug_panel.html", {"milled": in_short(of, person.units)})
