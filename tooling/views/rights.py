"""Rights: who may what now, who might on another day, and what a lead gives and ends."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, can_read, needs
from shared.errors import Refused
from tooling.forms.rights import AskedDayForm, EndForm, GiveForm
from tooling.models import May, Person, Role
from tooling.selectors import rights as asked
from tooling.services import rights as services
from tooling.views.frame import framed
from tooling.words import rights as words


@needs(can_read)
@require_safe
def rights(request: HttpRequest) -> HttpResponse:
    """Who may what, on the day that is asked; today unless another one is."""
    frame = framed()
    today = frame["now"].astimezone(frame["zone"]).date()
    form = AskedDayForm(request.GET if request.GET else None)
    known = form.cleaned_data if form.is_valid() else {}
    day, person = known.get("day") or today, known.get("person")
    context = {
        "form": form,
        "day": words.plain_day(day),
        "is_today": day == today,
        "answers": _answers(person, day, frame) if person else [],
        "asked_of": person,
        "lines": [words.line(one, frame["shop"].formal_records) for one in asked.who_might_each(May, day)],
    }
    return render(request, "tooling/people/rights.html", {**context, **frame})


def _answers(person: Person, day, frame):
    """Might they, that day? One sentence for each thing that wants a right."""
    found = []
    for may in May:
        right = asked.right_of(person, may, day)
        by_role = right is None and not asked.was_given(may, day) and asked.by_role(person, may)
        found.append(words.answer(person, may, day, right, by_role=by_role, zone=frame["zone"]))
    return found


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def person_rights(request: HttpRequest, number: int) -> HttpResponse:
    """The rights of one person: given, and ended."""
    person = Person.objects.filter(pk=number).exclude(role__in=Role.SHARED).first()
    if person is None:
        raise Http404
    frame = framed()
    today = frame["now"].astimezone(frame["zone"]).date()
    do = request.POST.get("do", "") if request.method == "POST" else ""
    give = GiveForm(request.POST if do == "give" else None, initial={"since": today})
    known = asked.rights_of(person)
    ends = {
        one.pk: EndForm(request.POST if do == f"end-{one.pk}" else None, right=one, today=today)
        for one in known
        if one.until is None or one.until > today
    }
    if _done(request, person, give, ends.values()):
        return redirect("person_rights", number=person.pk)
    lines = [(words.held(one, frame["zone"]), ends.get(one.pk)) for one in known]
    context = {"person": person, "give": give, "lines": lines}
    return render(request, "tooling/people/person_rights.html", {**context, **frame})


def _done(request, person, give, ends):
    """Whether something was given or ended; what was refused stands at its field."""
    said, at = {"by": request.user}, clock.now()
    if give.is_bound and give.is_valid():
        try:
            services.give(person, **give.cleaned_data, at=at, **said)
        except Refused as refused:
            give.told(refused)
        else:
            messages.success(request, _("Given: it stands here, with who gave it."))
            return True
    for form in ends:
        if form.is_bound and form.is_valid():
            try:
                services.end(form.right, **form.cleaned_data, at=at, **said)
            except Refused as refused:
                form.told(refused)
            else:
                messages.success(request, _("It ends then. What was done by it stays done by it."))
                return True
    return False
