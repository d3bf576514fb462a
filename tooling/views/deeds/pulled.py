"""A part comes off: one tap on how it came off, and then, for whoever knows more, what is seen."""

from uuid import UUID

from django.http import Http404
from django.shortcuts import redirect

from tooling.calc.entry import HARD
from tooling.forms.deeds.uses import PullForm, SeenForm
from tooling.models import Entry, Kind
from tooling.selectors.just_written import just_written, tell
from tooling.selectors.twice import written_before
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, entry_of, on_the_floor, page, to_tool
from tooling.words.terms import CAME_OFF, term

# The answer "another part came off" to a form that was sent: the form is shown again, and sent by a tap on a mark.
LOOK = "look"
_OF_A_PAGE = ("csrfmiddlewaretoken", "another")
# After these somebody has to look whether the tool is marked.
MARKED = ("stuck", "lost")


@deed()
def pulled(request, code):
    """How it came off, written with one tap; where somebody wrote it a moment ago, that is asked first."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = PullForm(**asked(request, on), on=on)
    if form.is_bound and form.data.get("another") == LOOK:
        form = PullForm(**{**asked(request, on), "data": _of_another(form, on), "kept": False}, on=on)
        return _form(request, on, form)
    another = form.data.get("another") if form.is_bound else request.GET.get("another")
    before = None if another or _sent_before(form) else written_before(on, form.opened_with)
    if before is not None:
        return _same_part(request, on, form, before)
    form.initial["another"] = "yes" if another else ""
    if form.is_valid():
        with form.told():
            entry = deeds.log_pull(on.tool, **form.facts(), **form.said())
            return redirect("seen", code=on.tool.code, number=entry.number)
    return _form(request, on, form)


def _form(request, on, form):
    pressed = form["came_off"].value() or ""
    return page(request, "pulled", on, form, marks=list(CAME_OFF), pressed=pressed)


def _same_part(request, on, form, before):
    """One part, two pulls? Nothing is written; what was tapped is kept."""
    own = just_written(on.tool, request.user, on.at, on.shop)
    mine = own is not None and own.entry.pk == before.pk
    kept = [(name, value) for name, values in _lists(form) for value in values]
    tapped = term(CAME_OFF, form["came_off"].value()) if form["came_off"].value() in CAME_OFF else ""
    told = tell(before, on.at, on.shop)
    return page(
        request, "pulled_before", on, form, before=before, mine=mine, told=told, kept=kept, tapped=tapped, look=LOOK
    )


def _lists(form):
    """What was typed, without what belongs to the one page."""
    return [] if not form.is_bound else [(name, values) for name, values in form.data.lists() if name not in _OF_A_PAGE]


def _of_another(form, on):
    """The same words for another part: those of the part that is gone are taken out."""
    data = form.data.copy()
    gone = Entry.objects.filter(tool=on.tool, pk=form.opened_with or 0).first()
    if gone is not None and (data.get("part"), data.get("serial")) == (gone.part, gone.serial):
        data["part"] = data["serial"] = ""
    data["lay_up"] = form.initial.get("lay_up", "")
    data["another"] = "yes"
    return data


def _sent_before(form):
    """Whether this form was written already: then it gets the first answer again."""
    if not form.is_bound:
        return False
    return Entry.objects.filter(token=UUID(form.data["token"])).exists()


@deed()
def seen(request, code, number):
    """What is seen of a pull that was just written; when its five minutes are over, the tool's page is the place."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    pull = entry_of(on, number)
    if pull.kind != "pull":
        raise Http404
    badly = pull.came_off in MARKED
    form = SeenForm(**asked(request, on), on=on, pull=pull)
    if form.is_valid():
        with form.told():
            entry = deeds.add_to_pull(
                pull,
                changes=form.facts(),
                not_looked=form.not_looked(asked=badly),
                recorded_by=request.user,
                token=form.cleaned_data["token"],
            )
            if form.cleaned_data["came_off"] and entry.kind == "pull":
                return redirect("seen", code=on.tool.code, number=entry.number)
            return to_tool(on)
    written = just_written(on.tool, request.user, on.at, on.shop)
    if not form.is_bound and (written is None or written.entry.pk != pull.pk):
        return to_tool(on)
    hard = pull.came_off in HARD
    return page(request, "seen", on, form, marks=list(CAME_OFF), pull=pull, written=written, hard=hard, badly=badly)
