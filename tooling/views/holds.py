"""Holds: one for ever, all of a tool, and all that is held now."""

from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from shared.access import can_log, can_print, can_read, needs
from tooling.models import Entry, Person, Tool
from tooling.selectors.held_now import held_now
from tooling.selectors.hold_stories import Held, all_holds, story_of
from tooling.selectors.just_written import tell
from tooling.services.deeds.alongside import in_place_of
from tooling.services.who_held import in_their_name
from tooling.views.frame import framed
from tooling.words.hold_stories import became, by_which_right
from tooling.words.holds import since

# A page of the holds of one tool.
_SIZE = 50


@dataclass(frozen=True, slots=True)
class Line:
    """One hold in a list: what it says, what became of it, and where its story is."""

    hold: Held
    said: str
    became: str
    address: str


@needs(can_read)
@require_safe
def holds(request: HttpRequest, code: str) -> HttpResponse:
    """Every hold of a tool, the latest first, with what became of each."""
    tool, frame = _tool(code), framed()
    found = all_holds(tool, frame["now"])
    text = request.GET.get("older", "")
    page = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    shown = found[page * _SIZE : (page + 1) * _SIZE]
    context = {
        "tool": tool,
        "lines": [_line(one, tool, frame) for one in shown],
        "older": page + 1 if len(found) > (page + 1) * _SIZE else None,
        "page": page,
        **_may(request),
    }
    return render(request, "tooling/holds.html", {**context, **frame})


@needs(can_read)
@require_safe
def hold_story(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """One hold for ever; `of`: the mold whose entry it is, where a mold insert was held by that."""
    tool, frame = _tool(code), framed()
    own = _tool(request.GET["of"]) if request.GET.get("of") else tool
    asked = get_object_or_404(Entry.objects.select_related("tool"), tool=own, number=number)
    story = story_of(tool, in_place_of(asked), frame["now"])
    if story is None:
        raise Http404
    entry = story.hold.entry
    if entry != asked:
        return redirect(address_of(entry, tool))
    told = [(one, tell(one, frame["now"], frame["shop"], request.user.units), shown) for one, shown in story.looks]
    freed = story.hold.ended
    context = {
        "tool": tool,
        "story": story,
        "hold": story.hold,
        "told": tell(entry, frame["now"], frame["shop"], request.user.units),
        "instead": tell(story.hold.changed, frame["now"], frame["shop"], request.user.units)
        if story.hold.changed is not None
        else None,
        "became": became(story.hold, frame["now"], frame["zone"]),
        "by_right": by_which_right(story.right, story.flags, tool.kind, _writer(freed)) if freed is not None else [],
        "looks": told,
        "before": [tell(one, frame["now"], frame["shop"], request.user.units) for one in story.before],
        **_may(request),
    }
    return render(request, "tooling/hold_story.html", {**context, **frame})


@needs(can_read)
@require_safe
def held(request: HttpRequest) -> HttpResponse:
    """All that is held now, and who may free it."""
    frame = framed()
    return render(request, "tooling/held.html", {"found": held_now(frame["now"]), **_may(request), **frame})


def address_of(entry: Entry, tool: Tool) -> str:
    """Where the story of a hold is, on the tool that it holds."""
    address = reverse("hold_story", args=[tool.code, entry.number])
    return address if entry.tool_id == tool.pk else f"{address}?of={entry.tool.code}"


def _writer(freed: Entry) -> Person | None:
    return in_their_name(freed.by, freed.recorded_by)


def _line(hold: Held, tool: Tool, frame: dict[str, Any]) -> Line:
    said = since(hold.entry, frame["now"], frame["zone"])
    return Line(hold, said, became(hold, frame["now"], frame["zone"]), address_of(hold.entry, tool))


def _tool(code: str) -> Tool:
    tool = Tool.objects.called(code).select_related("summary", "release_system").first()
    if tool is None:
        raise Http404
    return tool


def _may(request: HttpRequest) -> dict[str, bool]:
    return {"may_log": can_log(request.user), "may_print": can_print(request.user)}
