"""The readings of a tool: where each is going, all of them, and the same as a table."""

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from shared.access import can_lead, can_log, can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.models import Tool
from tooling.selectors.offered import more_readings
from tooling.selectors.readings import Reading, Series, series
from tooling.selectors.spot_pictures import by_spot
from tooling.selectors.tool import found
from tooling.selectors.trend_shown import trend_of
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from tooling.views.table import table_reply
from tooling.words import trends as words
from tooling.words.reading_rows import cells, read_with, titles

# So many visits stand on a page; so many series are drawn, the others are said.
PAGE, DRAWN = 30, 8


@needs(can_read)
@require_safe
@as_of_one_moment
def readings(request: HttpRequest, code: str) -> HttpResponse:
    """Each series with its picture, the pictures of its spots, and every value."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        return redirect("readings", code=tool.code)
    frame = framed()
    # Those with a limit first: only of them anything is said.
    every = sorted(series(tool, frame["now"]), key=lambda one: one.limit is None)
    lead = can_lead(request.user)
    units = request.user.units
    page = Paginator(_by_visit(every), PAGE).get_page(request.GET.get("page"))
    context = {
        "tool": tool,
        "shown": [_shown(one, tool, units, frame, lead=lead) for one in every[:DRAWN]],
        "others": [_said(one, tool, units, frame) for one in every[DRAWN:]],
        "page": page,
        "rows": [_row(values, one, tool, units, frame) for values, one in page],
        "spots": by_spot(every),
        "more": more_readings.of(tool.kind),
        "may_log": can_log(request.user),
        "may_lead": lead,
        "silent": words.when_silent(),
        "no_limit": words.NO_LIMIT_BUILT_IN,
        "count": sum(len(one.readings) for one in every),
        "source": words.SOURCE,
    }
    return render(request, "tooling/readings.html", {**context, **frame})


def _shown(one: Series, tool: Tool, units: str, frame: dict[str, Any], *, lead: bool) -> dict[str, Any]:
    said = _said(one, tool, units, frame)
    told = f"{said['sentence']} {said['last']}"
    return {
        **said,
        "spots": words.spots_past(one),
        "trend": trend_of(one, tool.kind, units, told) if len(one.visits) > 1 else None,
        "limit": words.whose_limit(one, units) if one.limit is not None else "",
        "working": list(words.working(one, tool.kind, units)),
        "set": _limit_page(one, tool) if lead else "",
    }


def _said(one: Series, tool: Tool, units: str, frame: dict[str, Any]) -> dict[str, Any]:
    """What is said of each series, drawn or not."""
    now, zone = frame["now"], frame["zone"]
    return {
        "name": words.named(one),
        "sentence": words.sentence(one, tool.kind, units, now, zone),
        "last": words.last_said(one, tool.kind, units, now, zone),
    }


def _limit_page(one: Series, tool: Tool) -> str:
    """Where a lead sets its limit; without a unit there is none to set."""
    if not one.unit:
        return ""
    if one.limit is not None:
        said = {"change": one.limit.row.pk}
    else:
        said = {"of": tool.code, "quantity": one.quantity, "unit": one.unit, "geometry": one.geometry}
    return f"{reverse('reading_limits')}?{urlencode(said)}#one"


def _by_visit(every: list[Series]) -> list[tuple[list[Reading], Series]]:
    """What was read of one thing at one time, the newest first."""
    found = []
    for one in every:
        for at, values in groupby(one.readings, key=lambda value: value.entry.at):
            found.append((at, list(values), one))
    found.sort(key=lambda of: of[0], reverse=True)
    return [(values, one) for _at, values, one in found]


def _row(values: list[Reading], one: Series, tool: Tool, units: str, frame: dict[str, Any]) -> dict[str, Any]:
    entry = values[0].entry
    past = [one.limit is not None and one.limit.is_past(value.value) for value in values]
    with_what = [read_with(value.entry.payload, entry.at, frame["now"], frame["zone"]) for value in values]
    return {
        "entry": entry,
        "name": words.named(one),
        "values": [
            {
                "spot": "" if one.spot else value.spot,
                "number": words.number(value.value, one.unit, units),
                "past": is_past,
            }
            for value, is_past in zip(values, past, strict=True)
        ],
        "unit": words.symbol(one.unit, units),
        "after": words.counted(values[0].pulls, tool.kind),
        "with": "; ".join(filter(None, dict.fromkeys(with_what))),
        "notes": list(dict.fromkeys(note for value in values if (note := value.entry.payload.get("note")))),
        "past": any(past),
    }


@needs(can_read)
@require_safe
@as_of_one_moment
def table(request: HttpRequest, code: str) -> HttpResponse:
    """Every value as it was written, as a table of text that any spreadsheet opens."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    frame = framed()
    return table_reply(f"{tool.code} readings", titles(tool.kind, frame["zone"]), _rows(tool, frame))


def _rows(tool: Tool, frame: dict[str, Any]) -> Iterator[list[str]]:
    for one in series(tool, frame["now"]):
        for number, segment in enumerate(one.segments, 1):
            for visit in segment.visits:
                for value in visit.readings:
                    yield cells(value.entry, value.pulls, number, frame["zone"])
