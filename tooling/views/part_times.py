"""When a part can be laid up, on its page: the sentence, how it comes about, and by when to start for a wanted time."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from tooling.drawing.timebar import DESK, PHONE, timebar_svg
from tooling.forms.wanted_at import WantedAtForm
from tooling.models import Shop
from tooling.selectors.lay_up_from import lay_up_from
from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.tool_set import ToolSet
from tooling.words.lay_up_from import sentence
from tooling.words.time_bar import Row, rows, time_bar
from tooling.words.when import clock_or_when, whole_minute


@dataclass(frozen=True, slots=True)
class Times:
    """One answer: the sentence in three pieces, of which `time` stands out, and how it comes about.

    heading: above that, or where no time can be said, above the sentence.
    bars: for a phone and for a desk; none where nothing has to be done.
    """

    found: LayUpFrom
    before: str
    time: str
    after: str
    heading: str
    rows: list[Row]
    bars: tuple[SafeString, ...]


def wanted_form(data: Any, shop: Shop) -> WantedAtForm:
    """What was asked in the address, if anything was."""
    return WantedAtForm(data if data.get("wanted", "").strip() else None, shop=shop)


def times(answer: ToolSet, shop: Shop, wanted: datetime | None = None) -> Times:
    """Forward from the moment of the answer, or backward from a wanted time."""
    found, zone = lay_up_from(answer, wanted=wanted), shop.zone
    said = sentence(found, answer.at, zone)
    moment = found.lay_up_at if wanted is None else found.starts_at
    time = "" if moment is None or found.now else clock_or_when(_minute(moment, wanted), answer.at, zone)
    before, time, after = said.partition(time) if time else (said, "", "")
    bar = time_bar(found, found.hours, answer.at, zone) if found.hours is not None else None
    return Times(
        found,
        before,
        time,
        after,
        _heading(answer, found, time),
        rows(found),
        tuple(mark_safe(timebar_svg(bar, width)) for width in (PHONE, DESK)) if bar is not None else (),  # noqa: S308
    )


def _heading(answer: ToolSet, found: LayUpFrom, time: str) -> str:
    if found.cannot is not None:
        return _("No time can be said.") if answer.usable else _("Cannot be laid up yet.")
    return _("How %(time)s comes about") % {"time": time} if time else _("How it comes about")


def _minute(moment: datetime, wanted: datetime | None) -> datetime:
    """As the sentence says it: ready by the minute that has come, begun with the minute that has begun."""
    return whole_minute(moment) if wanted is None else moment.replace(second=0, microsecond=0)
