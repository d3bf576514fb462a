"""Serial numbers: one looked up, with all that was written of it, and what a tool made in a stretch of time."""

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from shared import clock
from shared.access import can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.forms.serials import LONGEST, FindSerialForm, KnownForm, StretchForm
from tooling.models import Shop
from tooling.selectors import tools as near_tools
from tooling.selectors.containment.marks import marks_of
from tooling.selectors.parts import names_of
from tooling.selectors.serials.lines import lines_of
from tooling.selectors.serials.looked_up import Named, named, near, taken_back, then_of
from tooling.selectors.serials.made import made_in
from tooling.selectors.serials.story import Told, told
from tooling.selectors.timeline import places_named, tools_named
from tooling.views.frame import framed
from tooling.words import history, made
from tooling.words import serials as words
from tooling.words.entries import Around
from tooling.words.known_then import changed
from tooling.words.serial_page import made_said, trim_said
from tooling.words.when import moment

PAGE = 60


@dataclass(frozen=True, slots=True)
class Looked:
    """What an address of a number leads to: the one part that has it, or several to choose from, or none.

    `back`: where only void entries give it to that part.
    """

    one: Named | None
    several: list[Named]
    back: list[Named]


def looked(number: str, asked: QueryDict) -> Looked:
    """The part that has the number, of those that the address leaves."""
    found = named(number, asked.get("part"))
    if asked.get("tool"):
        found = [one for one in found if asked["tool"].upper() in {tool.code for tool in one.tools}]
    standing = [one for one in found if one.stands] or found
    if len(standing) != 1:
        return Looked(None, standing, [])
    one = standing[0]
    return Looked(one, [], taken_back(one, named(number, one.part)))


def told_as(number: str, found: Looked, known: KnownForm) -> Told:
    """The story of what was found; as it was known then as well, where the form asks for that."""
    at = known.cleaned_data.get("known_at") if known.is_valid() else None
    then = then_of(found.one, found.back, named(number, known_at=at)) if at is not None else None  # type: ignore[arg-type]
    return told(found.one, then, at, found.back)  # type: ignore[arg-type]


@needs(can_read)
@require_safe
@as_of_one_moment
def serials(request: HttpRequest) -> HttpResponse:
    """One box for a number, and a form for a tool and a stretch of days with what it made then."""
    box = FindSerialForm(request.GET)
    if box.is_valid() and (number := box.cleaned_data["q"]):
        return redirect("serial", serial=number)
    asked = any(name in request.GET for name in StretchForm().fields)
    form = StretchForm(request.GET if asked else None)
    context: dict[str, Any] = {"box": box, "form": form, **framed()}
    if form.is_valid():
        context |= _stretch(request, form, context)
    elif "tool" in form.errors and (code := request.GET.get("tool", "")):
        context["near"] = near_tools.near(code.replace("\x00", "")[:100])
    return render(request, "tooling/serials.html", context)


def _stretch(request: HttpRequest, form: StretchForm, frame: dict[str, Any]) -> dict[str, Any]:
    data = form.cleaned_data
    found = made_in(data["tool"], data["from"], data["until"])
    page = Paginator(found.parts, PAGE).get_page(request.GET.get("page"))
    lines = [made.line(one, found, frame["now"]) for one in page.object_list]
    kept = {name: value for name in form.fields if (value := request.GET.get(name, ""))}
    return {
        "made": found,
        "page": page,
        "lines": lines,
        "counted": made.counted(found),
        "table": f"{reverse('serials_table')}?{urlencode(kept)}",
    }


@needs(can_read)
@require_safe
@as_of_one_moment
def serial(request: HttpRequest, serial: str) -> HttpResponse:
    """The page of one number; where several parts have it, a choice of them."""
    number = " ".join(serial.replace("\x00", "").split())
    found = looked(number, request.GET)
    if found.one is None:
        return _several(request, number, found) if found.several else _nothing(request, number)
    now, zone = clock.now(), Shop.current().zone
    known = KnownForm(request.GET if "known_at" in request.GET else {}, zone=zone, now=now)
    answer = told_as(number, found, known)
    return render(
        request,
        "tooling/serial.html",
        {**_page(answer, found, request.user.units), "known": known, "asked": _asked(request)},
    )


def _asked(request: HttpRequest) -> list[tuple[str, str]]:
    """What the address says besides the moment, for the form that asks for another."""
    return [(name, request.GET[name]) for name in ("part", "tool") if request.GET.get(name)]


def _page(answer: Told, found: Looked, units: str) -> dict[str, Any]:
    frame = framed()
    shown = answer.now if answer.known_at is None else answer.then
    said = words.Said(frame["now"], frame["zone"], shown)
    day = moment(answer.known_at, frame["now"], frame["zone"]) if answer.known_at else ""
    lines = lines_of(answer, found.back)
    entries = [entry for line in lines for entry in (line.entry, *line.before)]
    around = Around(frame["now"], frame["zone"], tools_named(entries), places_named(entries), units)
    return {
        **frame,
        "named": found.one,
        "from_tools": words.from_tools([one.tool for one in shown.made] if shown and shown.made else found.one.makers),
        "back": found.back,
        "then": day,
        "changed": changed(answer.now, answer.then, day, said) if day else [],
        "made": [made_said(one, said) for one in shown.made] if shown else [],
        "trimmed": [trim_said(one, said) for one in shown.trimmed] if shown else [],
        "lines": history.shown(lines, None, around),
        "marks": marks_of(found.one.number, entries),  # type: ignore[union-attr]
        "table": _table(found.one),  # type: ignore[arg-type]
    }


def address_of(one: Named) -> str:
    """The address of its page, which no other part has."""
    return f"{reverse('serial', args=[one.number])}?{urlencode({'part': one.part, 'tool': one.tools[0].code})}"


def _table(one: Named) -> str:
    asked = {"serial": one.number, "part": one.part, "tool": one.tools[0].code}
    return f"{reverse('serials_table')}?{urlencode(asked)}"


def _several(request: HttpRequest, number: str, found: Looked) -> HttpResponse:
    names = names_of(one.part for one in found.several)
    offered = [(one, address_of(one), names.get(one.part.strip().upper(), "")) for one in found.several]
    context = {"number": number, "offered": offered, "box": FindSerialForm({"q": number}), **framed()}
    return render(request, "tooling/serial_choice.html", context)


def _nothing(request: HttpRequest, number: str) -> HttpResponse:
    """No entry names it, or none with that part or tool: those that are much like it."""
    typed = number[:LONGEST]
    others = named(number) if request.GET.get("part") or request.GET.get("tool") else []
    context = {
        "number": typed if len(number) <= LONGEST else _("%(begin)s…") % {"begin": typed},
        "near": near(number),
        "others": bool(others),
        "box": FindSerialForm({"q": number}),
        **framed(),
    }
    return render(request, "tooling/no_serial.html", context, status=404)
