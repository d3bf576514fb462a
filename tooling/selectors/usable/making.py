"""Still being built: nobody has accepted it."""

from collections.abc import Iterator

from django.utils.translation import gettext as _

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words.deeds import ACCEPT


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """A tool in the making, or an insert in it that is."""
    for key, tool in asked.together():
        if asked.read.is_making(tool):
            text = _("In the making, and not accepted yet.")
            yield key, Reason("making", tool.code, text, _("Accept it first."), ACCEPT, override=LEAD)
