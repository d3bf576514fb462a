"""What the page of a trim mask says in its first sentence: that it may be used, and how long until its next check."""

from django.utils.translation import gettext as _

from tooling.models import Person
from tooling.selectors.panels import Panel
from tooling.selectors.tool import ToolPage
from tooling.words.status import Sentence
from trimfixtures.selectors.checks import checked
from trimfixtures.words.standing import to_next_check


def stands(shown: ToolPage, person: Person) -> Panel:
    """Usable: 12 parts to its next check. Where something stops it the page says that instead."""
    one = checked([shown.tool], shown.at)[shown.tool.pk]
    return Panel(said=Sentence(_("Usable"), to_next_check(one)))
