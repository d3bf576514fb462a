"""The tool set of a part's revision, put together and kept by a lead."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from tooling.forms.tool_sets import AddHardwareForm, AddToolForm, LineForm, StartForm
from tooling.models import PartRevision, SetLine, SetRole
from tooling.selectors import parts as asked
from tooling.selectors.set_lines import Lines, offered, set_lines, with_sets
from tooling.selectors.set_question import notes, question
from tooling.selectors.tool import found as tool_called
from tooling.services import set_order, tool_sets
from tooling.services.set_added import add_tool
from tooling.services.set_rules import check_new
from tooling.views import set_gone
from tooling.views.frame import framed
from tooling.views.parts import no_part
from tooling.words.tool_set import SET_ROLES, came_in, left, not_there

# What a deed gives back: an answer, or a form in which its words stand.
Did = HttpResponse | dict[str, Any]


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def edit_set(request: HttpRequest, part: str) -> HttpResponse:
    """The set of a revision (`?revision=`, else the newest); a deed is one button of it."""
    one = asked.found(part)
    if one is None:
        return no_part(request, part)
    if one.number != part:
        return redirect(_at(one.number, request.GET.get("revision")))
    named = request.GET.get("revision")
    revision = asked.named_revision(one, named)
    newest = revision or asked.named_revision(one, None)
    if newest is None:
        messages.warning(request, _("Write a revision down first: a tool set belongs to one."))
        return redirect("revise_part", part=one.number)
    if revision is None:
        said = {"part": one.number, "name": named, "newest": newest.revision or _("one without a name")}
        messages.warning(request, _("%(part)s has no revision %(name)s. This is the newest: %(newest)s.") % said)
        return redirect(_at(one.number, newest.revision))
    lines = set_lines(revision)
    if request.method != "POST":
        return _page(request, lines, status=200 if _is_there(request, lines) else 404)
    done = _deed(request, lines)
    return done if isinstance(done, HttpResponse) else _page(request, lines, **done)


def _is_there(request: HttpRequest, lines: Lines) -> bool:
    """Whether the line that the address asks for is in the set; else that is said on the page."""
    key = request.GET.get("line")
    if key is None or lines.found(key) is not None:
        return True
    messages.warning(request, not_there())
    return False


def _deed(request: HttpRequest, lines: Lines) -> Did:
    """What the tapped button says: its name, and for a line its key and a further word. Of nonsense nothing is done."""
    name, *more = request.POST.get("do", "").split(".")
    if name in _OF_ALL and not more:
        return _OF_ALL[name](request, lines)
    found = lines.found(more[0]) if more else None
    try:
        if name in _OF_A_LINE and found is not None:
            return _OF_A_LINE[name](request, lines, found.line, *more[1:])
        messages.warning(request, not_there() if name in _OF_A_LINE else _("That button is none of this page."))
    except Refused as refused:
        messages.warning(request, refused.message)
    except SetLine.DoesNotExist:
        messages.warning(request, not_there())
    return redirect(_here(lines))


def _add(request: HttpRequest, lines: Lines) -> Did:
    """A tool comes in with its halves: one that was typed, or tapped among those that are meant.

    A second mold or mold insert is asked about first: needed as well, or in place of one that is there.
    """
    typed = request.POST.get("choose") or request.POST.get("tool", "")
    form = AddToolForm({"tool": typed})
    if not form.is_valid():
        return {"add": form}
    tool = form.cleaned_data["tool"]
    how = request.POST.get("how", "")
    other = lines.found(how)
    try:
        check_new(lines.revision, tool, "")
        if how != "also" and other is None and question(lines, tool) is not None:
            return redirect(_here(lines, ask=tool.code))
        instead = other.line if other is not None else None
        came = add_tool(lines.revision, tool, in_place_of=instead, **_who(request))
    except Refused as refused:
        form.add_error("tool", refused.message)
        return {"add": form}
    said = [] if how else notes(lines, tool)  # else they stood beside what was asked
    messages.success(request, " ".join([came_in([line.what for line in came]), *said]))
    return redirect(_here(lines))


def _hardware(request: HttpRequest, lines: Lines) -> Did:
    form = AddHardwareForm(request.POST)
    if not form.is_valid():
        return {"hardware": form}
    try:
        item = form.cleaned_data["item"]
        (line,) = tool_sets.add_line(lines.revision, SetRole.HARDWARE, item=item, **_who(request))
    except Refused as refused:
        form.add_error("item", refused.message)
        return {"hardware": form}
    messages.success(request, came_in([line.what]))
    return redirect(_here(lines))


def _start(request: HttpRequest, lines: Lines) -> Did:
    """An empty set begins with another one."""
    form = StartForm(request.POST)
    if form.is_valid():
        try:
            tool_sets.restart(lines.revision, form.revision(), **_who(request))
        except Refused as refused:
            if not refused.field:
                messages.warning(request, refused.message)
                return redirect(_here(lines))
            form.add_error(refused.field, refused.message)
        else:
            messages.success(request, _("Taken over. Confirm what is right for this revision, take out what is not."))
            return redirect(_here(lines))
    return {"start": form}


def _change(request: HttpRequest, lines: Lines, line: SetLine) -> Did:
    form = LineForm(line, lines, request.POST)
    if form.is_valid():
        try:
            tool_sets.change_line(line, **form.given(), **_who(request))
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            return redirect(_here(lines, line))
    return {"change": form}


def _move(request: HttpRequest, lines: Lines, line: SetLine, place: str = "") -> Did:
    if not (place.isascii() and place.isdigit() and len(place) < 6):
        messages.warning(request, _("Nothing was moved: which place?"))
        return redirect(_here(lines))
    set_order.move(line, int(place), **_who(request))
    return redirect(_here(lines, line))


def _confirm(request: HttpRequest, lines: Lines, line: SetLine) -> Did:
    tool_sets.confirm(lines.revision, lines=[line], **_who(request))
    return redirect(_here(lines, line))


def _confirm_all(request: HttpRequest, lines: Lines) -> Did:
    """Those that were on the page: what came in meanwhile nobody has looked at."""
    seen = set(request.POST.getlist("open"))
    those = [one.line for one in lines.open if str(one.line.pk) in seen]
    done = tool_sets.confirm(lines.revision, lines=those, **_who(request))
    messages.success(request, _("All of these are confirmed.") if done else _("All was confirmed already."))
    return redirect(_here(lines))


def _take_out(request: HttpRequest, lines: Lines, line: SetLine) -> Did:
    gone = tool_sets.take_out(line, with_halves=True, **_who(request))
    return redirect(_here(lines, out=set_gone.packed(gone)))


def _put_back(request: HttpRequest, lines: Lines) -> Did:
    back = set_gone.lines_of(request.POST.get("out", ""), lines.revision)
    try:
        done = tool_sets.put_back(lines.revision, back, **_who(request)) if back else []
    except (Refused, ValidationError) as refused:
        messages.warning(request, refused.message)
        return redirect(_here(lines))
    if done:
        messages.success(request, came_in([line.what for line in done]))
    else:
        messages.warning(request, _("There is nothing to put back."))
    return redirect(_here(lines, done[0] if done else None))


_OF_ALL: dict[str, Callable[[HttpRequest, Lines], Did]] = {
    "add": _add, "hardware": _hardware, "start": _start, "confirm_all": _confirm_all, "put_back": _put_back,
}  # fmt: skip
_OF_A_LINE: dict[str, Callable[..., Did]] = {
    "change": _change, "move": _move, "confirm": _confirm, "out": _take_out,
}  # fmt: skip


def _who(request: HttpRequest) -> dict[str, Any]:
    return {"by": request.user, "at": clock.now()}


def _at(number: str, revision: str | None, **more: str) -> str:
    """The page of a revision, said by name: a newer one that comes meanwhile is not meant."""
    query = {**({"revision": revision} if revision is not None else {}), **more}
    return reverse("edit_set", args=[number]) + (f"?{urlencode(query)}" if query else "")


def _here(lines: Lines, line: SetLine | None = None, **more: str) -> str:
    revision = lines.revision
    return _at(revision.part.number, revision.revision, **more) + (f"#line-{line.pk}" if line is not None else "")


def _page(request: HttpRequest, lines: Lines, *, status: int = 200, **forms: Any) -> HttpResponse:
    """The set with its forms: empty, but for the one whose words were not taken."""
    revision: PartRevision = lines.revision
    change = forms.get("change")
    opened = lines.found(request.GET.get("line", "")) if request.method != "POST" else None
    if change is None and opened is not None:
        change = LineForm(opened.line, lines)
    empty = not lines.all
    asked_of = tool_called(request.GET["ask"]) if request.method != "POST" and "ask" in request.GET else None
    gone = set_gone.lines_of(request.GET.get("out", ""), revision)
    context = {
        "lines": lines,
        "roles": [(role, words, lines.roles[role]) for role, words in SET_ROLES.items()],
        "part": revision.part,
        "revision": revision,
        "others": [one for one in revision.part.revisions.newest_first() if one.pk != revision.pk],
        "here": _here(lines),
        "add": forms.get("add") or AddToolForm(initial={"tool": request.GET.get("add", "")[:300]}),
        "hardware": forms.get("hardware") or AddHardwareForm(),
        "change": change,
        "start": (forms.get("start") or StartForm()) if empty else None,
        "with_sets": with_sets(revision.part, revision) if empty else [],
        "offered": offered(lines),
        "ask": question(lines, asked_of) if asked_of is not None else None,
        "out": request.GET.get("out", "") if gone else "",
        "left": left([line.what for line in gone]) if gone else "",
    }
    return render(request, "tooling/set_edit.html", {**context, **framed()}, status=status)
