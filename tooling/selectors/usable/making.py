"""Nobody has accepted it: still being built, or, with formal records, brought back after it was retired."""

from collections.abc import Iterator

from django.utils.translation import gettext as _

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words.deeds import ACCEPT


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The tool itself, or an insert that is in it."""
    for key, tool in asked.together():
        if asked.read.is_making(tool):
            text = _("In the making, and not accepted yet.")
            yield key, Reason("making", tool.code, text, _("Accept it first."), ACCEPT, override=LEAD)
        elif asked.read.is_unaccepted(tool):
            text = _("It was brought back, and nobody has accepted it since.")
            yield key, Reason("not_accepted", tool.code, text, _("Accept it first."), ACCEPT, override=LEAD)
