"""The one box of the list of tools."""

from django import forms
from django.utils.translation import gettext_lazy as _


class FindForm(forms.Form):
    """What is looked for; without anything every tool is."""

    q = forms.CharField(
        label=_("Code, old code or name"),
        required=False,
        max_length=100,
        widget=forms.TextInput(attrs={"type": "search", "autocapitalize": "off", "spellcheck": "false"}),
    )
