"""What is seen once a part is off, and whether the mold inserts are back: all of it may be left."""

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
from tooling.words.terms import CAME_OFF


@deed()
def seen(request, code, number):
    """What is seen of a pull that was just written; when its five minutes are over, the tool's page is the place."""
    on, pull, inserts = _pull(code, number)
    surfaces = [on.tool, *inserts["inserts"], *(entry.tool for entry in inserts["missing"])]
    form = SeenForm(**asked(request, on), surfaces=surfaces, pull=pull, **inserts)
    if form.is_valid():
        with form.told():
            entry = deeds.add_to_pull(
                pull,
                changes=form.facts(),
                not_looked=form.not_looked(),
                recorded_by=request.user,
                token=form.cleaned_data["token"],
            )
            _place(form, pull, by=pull.by)
            if form.cleaned_data["came_off"] or form.cleaned_data["inserts"]:
                return redirect("seen", code=on.tool.code, number=entry.number)
            return to_tool(on)
    written = just_written(on.tool, request.user, on.at, on.shop)
    if not form.is_bound and (written is None or written.entry.pk != pull.pk):
        return to_tool(on)
    known = {"hard": pull.came_off in HARD, "badly": pull.came_off in MARKING, "many": len(surfaces) > 1}
    return page(request, "seen", on, form, marks=list(CAME_OFF), pull=pull, written=written, **known)


@deed()
def inserts_back(request, code, number):
    """Whether the inserts are back, by any hand, while somebody may still be looking for one."""
    on, pull, inserts = _pull(code, number)
    form = CountForm(**asked(request, on), pull=pull, **inserts)
    if form.is_valid():
        said = form.said()
        with form.told():
            deeds.count_inserts(pull, back=form.back(), recorded_by=request.user, token=said["token"])
            _place(form, pull, by=said["by"])
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


def _place(form, pull, by):
    """Where each insert is, where anything was said of them."""
    if form.back() is not None:
        deeds.place_inserts(pull, **form.places(), by=by, recorded_by=form.who, token=form.cleaned_data["token"])
