"""Signing in and out."""

from django.contrib.auth.views import LoginView, LogoutView
from django.utils.decorators import method_decorator
from django.views.decorators.http import require_http_methods

from shared.forms import SignInForm


@method_decorator(require_http_methods(["GET", "HEAD", "POST"]), name="dispatch")
class SignIn(LoginView):
    """Ask for name and password, then go where the person was heading: the tool whose code was scanned, say."""

    template_name = "shared/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True


class SignOut(LogoutView):
    """End the session; posted only, so that no link does it by accident."""
