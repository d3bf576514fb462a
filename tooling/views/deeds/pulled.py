"""A part comes off: one tap on how it came off. What is seen of it may follow."""

from uuid import UUID

from django.shortcuts import redirect

from shared.keep_typed import PIN
from tooling.forms.deeds.uses import PullForm
from tooling.models import Entry, Kind
from tooling.selectors.just_written import just_written, tell
from tooling.selectors.matched import coming_off
from tooling.selectors.twice import written_before
from tooling.services import deeds
from tooling.services.deeds import PulledMeanwhile
from tooling.views.deeds.base import asked, deed, on_the_floor, page
from tooling.words.terms import CAME_OFF, term

# The answer "another part came off" to a form that was sent: the form is shown again, and sent by a tap on a mark.
LOOK = "look"
_OF_A_PAGE = ("csrfmiddlewaretoken", "another", PIN)


@deed()
def pulled(request, code):
    """How it came off, written with one tap; where somebody wrote it a moment ago, that is asked first."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    given = {**asked(request, on), "on": on, "offered": coming_off(on)}
    form = PullForm(**given)
    if form.is_bound and form.data.get("another") == LOOK:
        form = PullForm(**{**given, "data": _of_another(form, on), "kept": False})
        return _form(request, on, form)
    another = form.data.get("another") if form.is_bound else request.GET.get("another")
    # Whose hands comes first: the PIN is in no page that asks further.
    unasked = another or "by" in form.errors or _sent_before(form)
    before = None if unasked else written_before(on.summary, form.opened_with, on.at)
    if before is not None:
        return _same_part(request, on, form, before)
    form.initial["another"] = "yes" if another else ""
    if form.is_valid():
        about = {"another": bool(another), **form.facts()}
        try:
            with form.told():
                entry = form.write_down(deeds.take_off_set, form.halves_off(), **about)[0]
                return redirect("seen", code=on.tool.code, number=entry.number)
        except PulledMeanwhile as meanwhile:
            return _same_part(request, on, form, meanwhile.before)
    return _form(request, on, form)


def _form(request, on, form):
    pressed = form["came_off"].value() or ""
    return page(request, "pulled", on, form, marks=list(CAME_OFF), pressed=pressed)


def _same_part(request, on, form, before):
    """One part, two pulls? Nothing is written; what was tapped is kept."""
    own = just_written(before.tool, request.user, on.at, on.shop)
    half = before.tool if before.tool_id != on.tool.pk else None
    mine = own is not None and own.entry.pk == before.pk
    kept = [(name, value) for name, values in _lists(form) for value in values]
    tapped = term(CAME_OFF, form["came_off"].value()) if form["came_off"].value() in CAME_OFF else ""
    told = tell(before, on.at, on.shop)
    about = {"before": before, "half": half, "mine": mine, "told": told}
    return page(request, "pulled_before", on, form, kept=kept, tapped=tapped, look=LOOK, **about)


def _lists(form):
    """What was typed, without what belongs to the one page."""
    return [] if not form.is_bound else [(name, values) for name, values in form.data.lists() if name not in _OF_A_PAGE]


def _of_another(form, on):
    """The same words for another part: those of the part that is gone are taken out."""
    data = form.data.copy()
    gone = Entry.objects.filter(tool=on.tool, pk=form.opened_with or 0).first()
    still_in = str(data.get("lay_up", "")) == str(form.initial.get("lay_up", ""))
    if gone is not None and not still_in and (data.get("part"), data.get("serial")) == (gone.part, gone.serial):
        data["part"] = data["serial"] = ""
    data["lay_up"] = form.initial.get("lay_up", "")
    data["halves"] = form.initial["halves"]
    data["another"] = "yes"
    return data


def _sent_before(form):
    """Whether this form was written already: then it gets the first answer again."""
    if not form.is_bound:
        return False
    return Entry.objects.filter(token=UUID(form.data["token"])).exists()
