"""How tools hang on each other: what one was made from, whose place it took. None hangs on itself, however far back."""

from collections.abc import Mapping

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.models import Tool

# The columns, and what is said where a loop would close; for pages and sheets alike.
LOOPS = {
    "made_from": _("A tool cannot be made from itself, nor from one that was made from it."),
    "in_place_of": _("A tool cannot take its own place, nor that of one that took its place."),
}


def check(tool: Tool, column: str, locked: Mapping[int, Tool]) -> None:
    """Refuses a tool that hangs on itself.

    What one behind it hangs on is settled only while it is locked: else two changes close a loop that neither sees.
    """
    keys = behind(getattr(tool, column), column)
    if tool.pk in keys:
        raise Refused(str(LOOPS[column]), column)
    if not locked.keys() >= set(keys):
        raise Refused(_now("Somebody changed this moment what stands behind that one: keep this again."), column)


def behind(tool: Tool | None, column: str) -> list[int]:
    """The keys of a tool, of the one that it hangs on, and so on back."""
    keys: list[int] = []
    pk = tool.pk if tool is not None else None
    while pk is not None and pk not in keys:
        keys.append(pk)
        pk = Tool.objects.values_list(f"{column}_id", flat=True).get(pk=pk)
    return keys
