"""What the page of a trim mask says in its first sentence: that it may be used, and how long until its next check."""

from tooling.models import Person
from tooling.selectors.panels import Panel
from tooling.selectors.tool import ToolPage
from trimfixtures.selectors.checks import checked
from trimfixtures.words.standing import by_record


def stands(shown: ToolPage, person: Person) -> Panel:
    """Usable by its record. Where something stops it the page says that instead."""
    return Panel(said=by_record(checked([shown.tool], shown.at)[shown.tool.pk]))
