"""The form of the door, and a field of long lists for other forms."""

from html import escape
from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.forms.utils import flatatt
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext_lazy as _


class QuickSelect(forms.Select):
    """One of a list, written out at once: Django's own asks two templates for each line of it."""

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        chosen = self.format_value(value)
        lines = "".join(
            f'<option value="{escape(said)}"{" selected" if said in chosen else ""}>{escape(words)}</option>'
            for said, words in ((str(said), str(words)) for said, words in self.choices)
        )
        of_all = flatatt({**self.build_attrs(self.attrs, attrs), "name": name})
        return mark_safe(f"<select{of_all}>{lines}</select>")  # noqa: S308  (escaped word by word)


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
