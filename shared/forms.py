"""The form of the door."""

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.utils.translation import gettext_lazy as _


class SignInForm(AuthenticationForm):
    """Name and password. The name is taken without regard to case and stray spaces."""

    username = forms.CharField(
        label=_("Name"),
        widget=forms.TextInput(attrs={"autofocus": True, "autocomplete": "username", "spellcheck": "false"}),
    )

    error_messages = {
        "invalid_login": _("This name and password do not belong together. Capitals count in the password only."),
        "inactive": _("This name may not sign in. Ask the shop lead."),
    }
