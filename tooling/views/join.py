"""What a one-time link opens: a password for a person, a signed-in tablet for a station."""

from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.errors import Refused
from tooling.forms.people import JoinForm
from tooling.models import Invitation
from tooling.services import invitations
from tooling.services.invitations import Ended
from tooling.views.frame import framed
from tooling.words.people import ended as ended_words


@login_not_required
@never_cache
@sensitive_post_parameters("password1", "password2")
@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, token: str) -> HttpResponse:
    """Ask for a password, or at a tablet for one tap, and sign in. Opening the page alone uses nothing up."""
    at = clock.now()
    invitation, ended = invitations.found(token, at)
    if invitation is None or ended is not None:
        return _ended(request, invitation, ended or Ended.UNKNOWN)
    person = invitation.person
    form = JoinForm(person, request.POST if request.method == "POST" else None)
    if request.method == "POST" and (person.is_station or form.is_valid()):
        password = None if person.is_station else form.cleaned_data["password1"]
        try:
            person = invitations.accept(token, at=at, password=password)
        except Refused:
            return _ended(request, *invitations.found(token, at))
        login(request, person, backend="shared.access.RoleBackend")
        return redirect("wall" if person.is_station else "board")
    context = {"person": person, "form": form, "until": invitation.expires_at}
    return render(request, "tooling/people/join.html", {**context, **framed()})


def _ended(request: HttpRequest, invitation: Invitation | None, ended: Ended | None) -> HttpResponse:
    frame = framed()
    used_at = invitation.used_at if invitation is not None else None
    why, what_to_do = ended_words(str(ended), used_at, frame["now"], frame["zone"])
    status = 404 if invitation is None else 410
    context = {"why": why, "what_to_do": what_to_do, **frame}
    return render(request, "tooling/people/link_ended.html", context, status=status)
