"""Moving in: saying which of the shop's columns and words are which of ours."""

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from tooling.forms.moving_in import MatchForm, posted_looks
from tooling.forms.words import WordsForm, choices_of
from tooling.models import MovingIn
from tooling.selectors import moving_in as asked
from tooling.services.moving_in.looking import look
from tooling.services.moving_in.matching import Match, match_of, remember, remember_words
from tooling.services.moving_in.tables import theirs
from tooling.services.moving_in.trying import TRY, start
from tooling.services.starters import add_starter


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def match(request: HttpRequest, number: int) -> HttpResponse:
    """Each sheet and column of theirs is one of ours, or left out."""
    moving = get_object_or_404(MovingIn, pk=number)
    try:
        found = asked.look_at(moving)
        found, is_other = _as_posted(request, moving, found) if request.method == "POST" else (found, False)
    except Refused:
        return redirect("import_one", number=moving.pk)  # which says why it cannot be read
    form = MatchForm(found, request.POST if request.method == "POST" and not is_other else None)
    if form.is_bound and form.is_valid() and request.POST.get("do") != "show":
        remember(form.said())
        rows = {one.look.key: one.look.header_row for one in found}
        moving.given = {**moving.given, "header_rows": rows}
        moving.save(update_fields=["given"])
        return _try(request, moving)
    return render(request, "tooling/import_match.html", {"moving": moving, "form": form, "is_other": is_other})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def words(request: HttpRequest, number: int) -> HttpResponse:
    """Each word of theirs that is none of ours means one of them."""
    moving = get_object_or_404(MovingIn, pk=number)
    unknown = asked.unsaid(moving)
    if not unknown:
        return redirect("import_one", number=moving.pk)
    guesses = asked.guessed_words(unknown, choices_of)
    form = WordsForm(unknown, guesses, request.POST if request.method == "POST" else None)
    if form.is_valid():
        with transaction.atomic():
            for code in form.starters():
                add_starter(code)
            remember_words(form.said())
        return _try(request, moving)
    return render(request, "tooling/import_words.html", {"moving": moving, "form": form})


def _as_posted(request: HttpRequest, moving: MovingIn, found: list[Match]) -> tuple[list[Match], bool]:
    """The sheets as they were chosen; whether one of them is another than the page showed the columns of."""
    result, is_other = [], False
    with theirs(moving, only_top=True) as sheets:
        index = 0
        for one, before in zip(sheets, found, strict=True):
            if not before.look.columns:
                result.append(before)
                continue
            sheet, row, differs = posted_looks(request.POST, index, before.look, before.sheet)
            matched = match_of(look(one, row), sheet)
            result.append(matched)
            is_other = is_other or differs
            index += 1
    return result, is_other


def _try(request: HttpRequest, moving: MovingIn) -> HttpResponse:
    try:
        start(TRY, moving, by=request.user, at=clock.now())
    except Refused as refused:
        messages.warning(request, refused.message)
    return redirect("import_one", number=moving.pk)
