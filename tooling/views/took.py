"""What it took to make a tool: its hours and material, how they come about, and the same as a table."""

from collections.abc import Iterator
from datetime import tzinfo
from decimal import Decimal

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.models import Entry, MillingPass, Shop, Tool
from tooling.selectors import took as asked
from tooling.selectors.tool import found
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from tooling.views.table import table_reply
from tooling.words import took as words


@needs(can_read)
@require_safe
@as_of_one_moment
def took(request: HttpRequest, code: str) -> HttpResponse:
    """What was written of the work on one tool, added up; beside it what others of its kind took."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        return redirect("took", code=tool.code)
    frame, units = framed(), request.user.units
    one = asked.took([tool])[tool.pk]
    others = [other for other in asked.alike(tool.kind) if other.tool != tool]
    context = {
        "tool": tool,
        "took": one,
        "short": words.in_short(one, units),
        "from_to": words.from_to(one, frame["now"], frame["zone"]),
        "works": words.works(one),
        "totals": words.totals(one),
        "materials": words.materials(one, units),
        "notes": words.notes(one),
        "lines": [(entry, _said(entry, units)) for entry in one.entries],
        "others": [(other.tool, words.so_far(other, units)) for other in others],
        **frame,
    }
    return render(request, "tooling/took.html", context)


def _said(entry: Entry, units: str) -> str:
    return words.line_of(entry, asked.minutes_of(entry), asked.amount_of(entry), units)


@needs(can_read)
@require_safe
@as_of_one_moment
def table(request: HttpRequest, code: str) -> HttpResponse:
    """Each entry that was counted, and each milling pass, as a table of text that any spreadsheet opens."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    zone = Shop.current().zone
    return table_reply(f"{tool.code} took", words.titles(zone), _rows(tool, zone))


def _rows(tool: Tool, zone: tzinfo) -> Iterator[list[str]]:
    one = asked.took([tool])[tool.pk]
    for entry in one.entries:
        counted = Decimal(0) if entry.pk in one.not_added else asked.minutes_of(entry)
        yield words.cells(entry, counted, zone)
    for cut in MillingPass.objects.filter(tool=tool, minutes_taken__isnull=False):
        yield words.cells_of_pass(cut)
