"""What the page of a tool shows of its open defects: where they are on its picture, and how each went."""

from shared.access import can_log
from tooling.models import Person
from tooling.selectors.defects import open_defects
from tooling.selectors.panels import Panel
from tooling.selectors.tool import ToolPage

SHEETS = ("face/defects.css",)


def panel(shown: ToolPage, person: Person) -> Panel | None:
    """None where no defect is open: that asks nothing of the database."""
    if not shown.summary.open_defects:
        return None
    found = open_defects(shown.tool, shown.at)
    given = {"tool": shown.tool, "defects": found, "may_log": can_log(person) and not shown.summary.retired}
    return Panel("tooling/_defect_panel.html", {**given, "units": person.units}, sheets=SHEETS)
