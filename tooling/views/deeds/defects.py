"""A defect is marked on the tool's picture, seen again, or has come back."""

from django.http import Http404
from django.shortcuts import redirect

from tooling.forms.deeds.defects import LONGEST_WORDS
from tooling.forms.deeds.found_defect import AgainForm, FoundForm, SeenForm
from tooling.forms.deeds.pictures import tapped_on
from tooling.models import Entry, Picture
from tooling.selectors.defects import defect_story, open_defects
from tooling.selectors.floor import record_begins
from tooling.services import deeds
from tooling.services.defects import close_ups, found_by
from tooling.views.deeds.base import asked, deed, on_the_floor, page
from tooling.views.deeds.given import take_pictures

# As many pictures are offered to be marked.
OFFERED = 12


@deed()
def defect_new(request, code):
    """Something new: tapped on a picture, with its kind; it may stop the tool in the same breath."""
    on = on_the_floor(code)
    pictures = list(Picture.objects.on().filter(tool=on.tool)[:OFFERED])
    told = _told(request, on)
    picture = _picture(request, pictures, told)
    tap = tapped_on(picture, request.POST) if picture is not None and request.method == "POST" else None
    form = FoundForm(
        kind=on.tool.kind, picture=picture, begins=record_begins(on.tool), **_asked(request, on, picture, told, tap)
    )
    if tap is None and form.is_valid():
        with form.told():
            facts = {"line": form.line, "picture": picture, "stop": form.cleaned_data["stop"], "reason": form.reason}
            entry = form.write_down(deeds.find_defect, on.tool, **facts)
            (number,) = found_by(entry)
            _with_close_ups(request, entry, number, form)
            if told is not None:
                close_ups(told, number)
            return redirect("defect", code=on.tool.code, number=number)
    _ring(picture, form)
    there = open_defects(on.tool, on.at)
    return page(request, "defect_new", on, form, picture=picture, pictures=pictures, there=there, of=told)


def _told(request, on):
    """What was written of the tool before, that is now kept as a defect: a stop, or something told to the lead."""
    number = (request.POST if request.method == "POST" else request.GET).get("of", "")
    if not (number.isascii() and number.isdigit() and len(number) < 9):
        return None
    return Entry.objects.filter(tool=on.tool, number=number, kind__in=("hold", "note", "inspected", "pull")).first()


def _picture(request, pictures, told):
    """The one that is tapped on: which was chosen, one that was given with what was told, the main one, the first."""
    chosen = (request.POST if request.method == "POST" else request.GET).get("on", "")
    if chosen or request.method == "POST":
        return next((one for one in pictures if str(one.pk) == chosen), None)
    given = [one for one in pictures if told is not None and one.entry_id == told.pk]
    given.sort(key=lambda one: one.mark is None)
    main = [one for one in pictures if one.main]
    return next(iter([*given, *main, *pictures]), None)


def _asked(request, on, picture, told, tap):
    """What the form is made with. A tap without a script only sets the mark: all else stands as it was typed."""
    said = asked(request, on)
    initial = {"on": picture.pk if picture is not None else None}
    if told is not None:
        words = told.payload.get("reason") or told.payload.get("note", "")
        initial |= {"of": told.number, "words": words[:LONGEST_WORDS]}
        if picture is not None and picture.entry_id == told.pk and picture.mark is not None:
            initial |= {"x": picture.mark_x, "y": picture.mark_y}
    if tap is None:
        return {**said, "initial": initial}
    typed = {name: request.POST[name] for name in request.POST if name != "pin"}
    return {**said, "data": None, "files": None, "initial": {**typed, "x": tap[0], "y": tap[1]}}


def _ring(picture, form):
    """The ring stands where the form has it, whatever mark the picture has of its own."""
    if picture is not None:
        try:
            picture.mark_x, picture.mark_y = int(form["x"].value()), int(form["y"].value())
        except (TypeError, ValueError):
            picture.mark_x = picture.mark_y = None


@deed()
def defect_seen(request, code, number):
    """How an open defect is now."""
    on = on_the_floor(code)
    one = _story(on, number)
    if not one.is_open:
        return redirect("defect", code=on.tool.code, number=number)
    form = SeenForm(defects=[one], **asked(request, on))
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.see_defects, on.tool, lines=form.lines())
            _with_close_ups(request, entry, number, form)
            return redirect("defect", code=on.tool.code, number=number)
    return page(request, "defect_seen", on, form, one=one)


@deed()
def defect_again(request, code, number):
    """A closed defect is there again."""
    on = on_the_floor(code)
    one = _story(on, number)
    form = AgainForm(**asked(request, on))
    if one.is_open and not (form.is_bound and form.is_valid() and form.was_sent):
        return redirect("defect", code=on.tool.code, number=number)
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.come_back, on.tool, line=form.line(number))
            _with_close_ups(request, entry, number, form)
            return redirect("defect", code=on.tool.code, number=number)
    return page(request, "defect_again", on, form, one=one)


def _story(on, number):
    one = defect_story(on.tool, number, on.at)
    if one is None:
        raise Http404
    return one


def _with_close_ups(request, entry, number, form):
    if form.cleaned_data["pictures"]:
        take_pictures(request, entry, form.cleaned_data["pictures"], by=entry.by)
        close_ups(entry, number)
