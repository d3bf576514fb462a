"""What a tool's page says where the tool sets that it is in stop it: the first sentence, and how its surface stands."""

from collections.abc import Sequence
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.status import ORDER
from tooling.words.no_lay_up import said_of
from tooling.words.status import Sentence
from tooling.words.when import clock_or_when, whole_minute

# Of these the sentence says that it can be laid up, now or from when.
_SAYS_IT_CAN = frozenset({"ready", "last_pull", "curing", "film_drying"})
# A tool without release surface is held, retired, or whatever a bare one is.
_OF_NO_SURFACE = frozenset(ORDER) - {"held", "retired"}


def stopped_for_all(stops: Sequence[Any]) -> bool:
    """Whether there is a part, and none that it may be used for."""
    return bool(stops) and all(one.reasons for one in stops)


def alike(stops: Sequence[Any]) -> bool:
    """Whether the same stops it for each part."""
    return stopped_for_all(stops) and all(one.keys == stops[0].keys for one in stops)


def replaces(shown: Any, stops: Sequence[Any]) -> bool:
    """Whether the first sentence of a tool's page is about them, since its state would say that it can be laid up."""
    says_it_can = _SAYS_IT_CAN if shown.tool.has_surface else _OF_NO_SURFACE
    return shown.status.status in says_it_can and stopped_for_all(stops)


def instead(shown: Any, said: Sentence | None, stops: Sequence[Any]) -> Sentence | None:
    """The first sentence where each part stops it, in place of one that says that it can be laid up.

    shown: the tool's page. stops: of each part.
    """
    if not replaces(shown, stops):
        return said
    if said is None or not shown.tool.has_surface:
        return Sentence(_("Not usable"))
    first = _("No go for any of its parts")
    if alike(stops):
        one = stops[0].reasons[0]
        first = (one.text if one.tool == shown.tool.code else said_of(one.tool, one.text)).rstrip(".")
    return Sentence(first, more=(_surface(shown, said),))


def _surface(shown: Any, said: Sentence) -> str:
    """How far its own surface is, without saying that it can be laid up."""
    if shown.status.status != "curing" or shown.status.ready_at is None:
        return said.whole
    time = clock_or_when(whole_minute(shown.status.ready_at), shown.at, shown.shop.zone)
    return _("The coat on %(tool)s cures until %(time)s.") % {"tool": shown.on or shown.tool.code, "time": time}
