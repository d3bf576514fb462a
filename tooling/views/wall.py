"""The wall: one tablet that a shop shares, with the molds in use as rows to be read from across the shop."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import conditional_page, require_safe

from shared.access import can_log, can_read, is_station, needs
from shared.snapshot import one_moment
from tooling.models import Entry, Shop
from tooling.selectors.how_off import hows_not_said
from tooling.selectors.just_written import JustWritten
from tooling.selectors.shop_temperature import shop_temperature
from tooling.selectors.tools import near
from tooling.selectors.wall import MOST, InUse, in_use, strips
from tooling.words.deeds import Deed
from tooling.words.lines import Around, about, next_for
from tooling.words.wall import next_words


@dataclass(frozen=True, slots=True)
class WallRow:
    """One row. `deed` is done to `to`; `likely`: it can be done now. `written` was written here a moment ago.

    `how`: a pull of which nobody has said how it came off.
    """

    one: InUse
    about: str
    said: str
    deed: Deed | None
    to: str
    likely: bool
    written: JustWritten | None = None
    how: Entry | None = None


@needs(can_read)
@require_safe
@cache_control(private=True, no_cache=True)
def wall(request: HttpRequest) -> HttpResponse:
    """The rows, and a box that opens any tool."""
    shown = _shown(request)
    measured = shop_temperature(shown["now"], shown["zone"])
    code = request.GET.get("none", "").replace("\x00", "")[:300]
    missed = {"code": code, "near": near(code)} if code else None
    return render(request, "tooling/wall.html", {**shown, "measured": measured, "missed": missed})


@needs(can_read)
@require_safe
@cache_control(private=True, no_cache=True)
@conditional_page
def wall_rows(request: HttpRequest) -> HttpResponse:
    """The rows anew, in the order in which a screen has them: `order` in the address. Nothing where nothing changed."""
    return render(request, "tooling/_wall_rows.html", _shown(request))


def _shown(request: HttpRequest) -> dict[str, Any]:
    with one_moment() as at:
        shop = Shop.current()
        found = in_use(at, _order(request))
        written = strips(request.user, at, shop) if is_station(request.user) else []
    rows = _rows(found, written, at, shop)
    shown = {row.one.row.tool.pk for row in rows}
    stand = ",".join(str(row.one.row.tool.pk) for row in rows)
    return {
        "rows": rows,
        "others": [one for one in written if one.entry.tool_id not in shown],
        "kept": f"{reverse('wall_rows')}?order={stand}",
        "most": MOST if len(rows) == MOST else 0,
        "may_log": can_log(request.user),
        "shop": shop,
        "zone": shop.zone,
        "now": at,
    }


def _rows(found: list[InUse], written: list[JustWritten], at: datetime, shop: Shop) -> list[WallRow]:
    around, of = Around(at, shop.zone), {one.entry.tool_id: one for one in written}
    hows = hows_not_said([one.row.tool.pk for one in found if one.row.tool.matched_set], at)
    rows = []
    for one in found:
        tool, deeds, likely = next_for(one.row, at)
        deed = deeds[0] if deeds else None
        words = about(one.row, part=True), next_words(one, around)
        rows.append(WallRow(one, *words, deed, tool.code, likely, of.get(one.row.tool.pk), hows.get(one.row.tool.pk)))
    return rows


def _order(request: HttpRequest) -> list[int]:
    """The keys as they stand on the screen; anything else is none."""
    asked = request.GET.get("order", "").split(",")[:MOST]
    return [int(key) for key in asked if key.isascii() and key.isdigit() and len(key) < 19]
