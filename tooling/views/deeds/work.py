"""Work on the surface, what is seen of it, and words: each one form and one entry."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse

from tooling.forms.deeds.work import (
    AreaForm,
    CleanForm,
    NoteForm,
    ReleaseCheckForm,
    WaxWantedForm,
    WorkForm,
)
from tooling.models import Entry, Kind
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool


def _work(
    request: HttpRequest,
    code: str,
    template: str,
    form_of: Callable[..., Any],
    write: Callable[..., Entry],
    kinds: frozenset[str] | None = Kind.WITH_SURFACE,
) -> HttpResponse:
    """The tool, the form, one entry, and back to the tool."""
    on = on_the_floor(code, kinds)
    form = form_of(**asked(request, on))
    if form.is_valid():
        with form.told():
            form.write_down(write, on.tool, **form.facts())
            return to_tool(on)
    return page(request, template, on, form)


@deed()
def strip(request, code):
    """The surface is cleaned back to bare."""
    return _work(request, code, "strip", AreaForm, deeds.strip)


@deed()
def clean(request, code):
    """Cleaned, with what: the page says before it is written what that is to the surface."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = CleanForm(**asked(request, on))
    if form.is_valid():
        write = {"clean": deeds.clean, "strip": deeds.strip, "polish": deeds.polish}[form.kind]
        with form.told():
            form.write_down(write, on.tool, **form.facts())
            return to_tool(on)
    return page(request, "clean", on, form)


@deed()
def build_up(request, code):
    """Build-up is seen."""
    return _work(request, code, "build_up", WorkForm, deeds.see_build_up)


@deed()
def release_check(request, code):
    """The release was tried with tape or water."""
    return _work(request, code, "release_check", ReleaseCheckForm, deeds.check_release)


@deed()
def wax_wanted(request, code):
    """A coat is wanted before the count is up."""
    return _work(request, code, "wax_wanted", WaxWantedForm, deeds.want_wax)


@deed()
def note(request, code):
    """Words for the history of any tool."""
    return _work(request, code, "note", NoteForm, deeds.take_note, kinds=None)
