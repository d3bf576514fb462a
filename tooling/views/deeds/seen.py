"""What is seen once a part is off, and whether the mold inserts are back: all of it may be left."""

from uuid import uuid5

from django.http import Http404
from django.shortcuts import redirect

from tooling.calc.entry import HARD
from tooling.forms.deeds.seen import CountForm, SeenForm
from tooling.models import Kind
from tooling.selectors.inserts_back import inserts_in, missing_after
from tooling.selectors.just_written import just_written
from tooling.services import deeds
from tooling.services.deeds.unseen import MARKING
from tooling.views.deeds.base import asked, deed, entry_of, on_the_floor, page, to_tool
from tooling.views.deeds.given import take_pictures, with_pictures
from tooling.words.terms import CAME_OFF


@deed()
def seen(request, code, number):
    """What is seen of a pull that was just written; when its five minutes are over, the tool's page is the place."""
    on, pull, inserts = _pull(code, number)
    surfaces = [on.tool, *inserts["inserts"], *(entry.tool for entry in inserts["missing"])]
    form = SeenForm(**asked(request, on), surfaces=surfaces, pull=pull, others=deeds.written_with(pull), **inserts)
    if form.is_valid():
        with form.told():
            token = form.cleaned_data["token"]
            said = {"changes": form.facts(), "not_looked": form.not_looked()}
            places = form.places() if form.back() is not None else None
            who = {"by": form.hand, "recorded_by": request.user, "token": token}
            entry = deeds.add_with_inserts(pull, places=places, **said, **who)
            return _after(request, on, form, entry)
    written = just_written(on.tool, request.user, on.at, on.shop)
    if not form.is_bound and (written is None or written.entry.pk != pull.pk):
        return to_tool(on)
    known = {
        "halves": form.other_halves,
        "hard": pull.came_off in HARD,
        "badly": pull.came_off in MARKING,
        "many": len(surfaces) > 1,
    }
    return page(request, "seen", on, form, marks=list(CAME_OFF), pull=pull, written=written, **known)


def _after(request, on, form, entry):
    """Stays where there is more to say: a mark or the inserts were tapped, of this half or another."""
    another = form.of_another()
    if another is not None:
        pull, mark = another
        token = uuid5(form.cleaned_data["token"], str(pull.tool_id))
        said = {"changes": {"came_off": mark}, "by": form.hand}
        pull = deeds.add_to_pull(pull, **said, recorded_by=request.user, token=token)
    if another is None and not form.cleaned_data["came_off"] and not form.cleaned_data["inserts"]:
        return with_pictures(request, entry, form, to_tool(on))
    take_pictures(request, entry, form.cleaned_data["pictures"], by=entry.by)
    shown = entry if another is None else pull
    return redirect("seen", code=shown.tool.code, number=shown.number)


@deed()
def inserts_back(request, code, number):
    """Whether the inserts are back, by any hand, while somebody may still be looking for one."""
    on, pull, inserts = _pull(code, number)
    form = CountForm(**asked(request, on), pull=pull, **inserts)
    if form.is_valid():
        said = form.said()
        with form.told():
            who = {"by": said["by"], "recorded_by": request.user, "token": said["token"]}
            deeds.count_inserts(pull, is_back=form.back(), **form.places(), **who)
            return to_tool(on)
    if not form.is_bound and (not form.asked_of or pull.replaced_by.exists() or pull.voided_by.exists()):
        return to_tool(on)
    return page(request, "inserts_back", on, form, pull=pull)


def _pull(code, number):
    """The tool, the pull, and the inserts that are asked about."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    pull = entry_of(on, number)
    if pull.kind != "pull":
        raise Http404
    return on, pull, {"inserts": inserts_in(pull), "missing": missing_after(pull)}
