"""Parts: the list, one with its revisions and what makes it, and what a lead adds and changes."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, can_read, needs
from shared.errors import Refused
from shared.snapshot import as_of_one_moment
from tooling.forms.parts import FindPartForm, PartForm, RevisionForm
from tooling.models import Part, PartRevision
from tooling.selectors import parts as asked
from tooling.selectors.about import part_changes
from tooling.selectors.parts_now import parts_now
from tooling.selectors.written import nearest, numbers
from tooling.services import parts as kept
from tooling.services import revision_back
from tooling.services.revision_back import against
from tooling.views.catalogue import say_kept
from tooling.views.frame import framed
from tooling.views.part_set import of_part
from tooling.views.revision_gone import forget, gone_of, keep_gone
from tooling.words.about import part_changed
from tooling.words.parts_now import stands

PAGE = 50


@needs(can_read)
@require_safe
def parts(request: HttpRequest) -> HttpResponse:
    """All parts, or those that have the words in number or name."""
    form = FindPartForm(request.GET)
    words = form.cleaned_data["q"] if form.is_valid() else ""
    listed = asked.listed(words) if form.is_valid() else Part.objects.none()
    page = Paginator(listed, PAGE).get_page(request.GET.get("page"))
    shown = list(page.object_list)
    frame = framed()
    now = parts_now(shown, frame["now"], units=request.user.units)
    context = {
        "form": form,
        "words": words,
        "page": page,
        "parts": [(one, stands(one.found, frame["now"], frame["zone"])) for one in now],
        "may_lead": can_lead(request.user),
    }
    return render(request, "tooling/parts.html", {**context, **frame})


@needs(can_read)
@require_safe
@as_of_one_moment
def part(request: HttpRequest, part: str) -> HttpResponse:
    """One part by its number, with its tool set. A number that only histories name has a page as well."""
    one, revisions = asked.with_revisions(part)
    if one is not None and one.number != part:
        query = request.META.get("QUERY_STRING", "")
        return redirect(reverse("part", args=[one.number]) + (f"?{query}" if query else ""))
    known = of_part(request, revisions) if revisions else framed()
    # A set comes first; what is counted out of all histories is one tap away then.
    counted = "made" in request.GET or not known.get("sections")
    makers = asked.makers(part) if counted and "\x00" not in part else []
    if one is None and not makers:
        return no_part(request, part)
    changes, more_changes = part_changes(one) if counted and one is not None else ([], False)
    context = {
        "number": part,
        "part": one,
        "revisions": revisions,
        "newest": revisions[0] if revisions else None,
        "counted": counted,
        "makers": makers,
        "changes": [part_changed(change, request.user.units) for change in changes],
        "more_changes": more_changes,
        "may_lead": can_lead(request.user),
        "gone": gone_of(request, one) if can_lead(request.user) else None,
    }
    return render(request, "tooling/part.html", {**context, **known})


def no_part(request: HttpRequest, number: str) -> HttpResponse:
    """Nobody wrote the number down and no history names it: those that look like it."""
    form = FindPartForm(initial={"q": number[:100]})
    context = {"number": number, "near": nearest(number[:100], numbers()), "form": form}
    context["may_lead"] = can_lead(request.user) and 0 < len(number) <= 80 and "\x00" not in number
    return render(request, "tooling/no_part.html", {**context, **framed()}, status=404)


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def new_part(request: HttpRequest) -> HttpResponse:
    """Write down a new part with its first revision."""
    form = PartForm(_sent(request), system=request.user.units, number=request.GET.get("number", "")[:80])
    if form.is_valid() and _kept(request, form, kept.add_part, form.cleaned_data["number"]):
        messages.success(request, _("Written down."))
        return redirect("part", part=" ".join(form.cleaned_data["number"].split()))
    return _page(request, form, _("A new part"), None)


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def revise(request: HttpRequest, part: str) -> HttpResponse:
    """A further revision of a part; it begins as the newest one stands. Or one that was taken back is put back."""
    one = _part(part)
    if request.POST.get("do") == "put_back":
        return _put_back(request, one)
    newest = one.revisions.newest_first().first()
    form = RevisionForm(newest or PartRevision(), _sent(request), system=request.user.units)
    if form.is_valid() and form.changes():
        if _kept(request, form, kept.add_revision, one, like=newest):
            messages.success(request, _("Written down. It is the newest revision from now on."))
            return redirect("part", part=one.number)
    elif form.is_valid():
        form.add_error(None, _("Nothing is changed yet."))
    return _page(request, form, _("A further revision of %(part)s") % {"part": one.number}, one)


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def change_revision(request: HttpRequest, part: str, revision: int) -> HttpResponse:
    """Change what stands of a revision."""
    one = _part(part)
    row = get_object_or_404(one.revisions, pk=revision)
    if request.POST.get("do") == "take_back":
        return _take_back(request, row)
    form = RevisionForm(row, _sent(request), system=request.user.units)
    if form.is_valid() and _kept(request, form, kept.change_revision, row, read=form.row):
        say_kept(request, form)
        return redirect("part", part=one.number)
    newest = list(one.revisions.newest_first()[:2])
    back = {"stays": against(row), "before": newest[1]} if len(newest) > 1 and newest[0] == row else {}
    return _page(request, form, _("Change %(part)s") % {"part": one.number}, one, back=back)


def _take_back(request: HttpRequest, row: PartRevision) -> HttpResponse:
    """It was written down by mistake."""
    try:
        lines = revision_back.take_back(row, by=request.user, at=clock.now())
    except (Refused, PartRevision.DoesNotExist) as refused:
        messages.warning(request, refused.message if isinstance(refused, Refused) else _("It is gone already."))
    else:
        keep_gone(request, row, lines)
    return redirect("part", part=row.part.number)


def _put_back(request: HttpRequest, part: Part) -> HttpResponse:
    gone = gone_of(request, part)
    if gone is None:
        messages.warning(request, _("There is nothing to put back."))
    else:
        row, lines = gone
        try:
            revision_back.put_back(row, lines, by=request.user, at=clock.now())
        except ValidationError as refused:
            messages.warning(request, " ".join(refused.messages))
        else:
            forget(request)
            messages.success(request, _("It is back, and the newest revision again."))
    return redirect("part", part=part.number)


def _kept(request: HttpRequest, form: RevisionForm, service: Any, about: Any, **more: Any) -> bool:
    """Whether the service took it; what it refused stands in the form."""
    try:
        service(about, by=request.user, at=clock.now(), columns=form.changes(), **more)
    except (Refused, ValidationError) as refused:
        form.told(refused)
        return False
    return True


def _part(number: str) -> Part:
    part = asked.found(number)
    if part is None:
        raise Http404
    return part


def _sent(request: HttpRequest) -> Any:
    return request.POST if request.method == "POST" else None


def _page(request: HttpRequest, form: RevisionForm, heading: str, part: Part | None, **more: Any) -> HttpResponse:
    context = {"form": form, "heading": heading, "part": part, **more}
    return render(request, "tooling/part_form.html", {**context, **framed()})
