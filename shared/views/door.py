"""Signing in and out."""

from typing import Any

from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView, LogoutView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.decorators import method_decorator
from django.views.decorators.http import require_http_methods

from shared.access import is_station
from shared.cookies import FOLDED_CAUTIONS
from shared.forms import SignInForm


@method_decorator(require_http_methods(["GET", "HEAD", "POST"]), name="dispatch")
class SignIn(LoginView):
    """Ask for name and password, then go where the person was heading: the tool whose code was scanned, say."""

    template_name = "shared/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def get_default_redirect_url(self) -> str:
        """The rows of the wall for a shared tablet, the morning board for everybody else."""
        return reverse("wall") if is_station(self.request.user) else super().get_default_redirect_url()

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        """In, with every caution open."""
        return _all_cautions_open(super().form_valid(form))


class SignOut(LogoutView):
    """End the session; posted only, so that no link does it by accident. A shared tablet is asked once more."""

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if is_station(request.user) and request.POST.get("sure") != "yes":
            return render(request, "shared/sign_out.html")
        return _all_cautions_open(super().post(request, *args, **kwargs))


def _all_cautions_open(response: HttpResponse) -> HttpResponse:
    response.delete_cookie(FOLDED_CAUTIONS, samesite="Lax")
    return response
