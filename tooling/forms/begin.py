"""The first steps of a shop, each a small form."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from tooling.forms.new_places import all_meant
from tooling.services.starters import STARTERS


class FirstPlaceForm(forms.Form):
    """A rack with its shelves, or a bench, in one line."""

    line = forms.CharField(
        label=_("Where the tool lies"),
        max_length=200,
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        help_text=_("As in: rack B, 3 shelves. Or only: bench 1."),
    )

    def clean(self) -> dict[str, Any]:
        """The places that are meant, none of them there already."""
        data = super().clean() or {}
        if "line" in data:
            try:
                data["places"] = all_meant(data["line"], "")
            except ValidationError as wrong:
                self.add_error("line", wrong)
        return data


class FirstRecipeForm(forms.Form):
    """The starter recipes that the shop begins with."""

    recipes = forms.MultipleChoiceField(
        label=_("Which of them does the shop use?"),
        choices=[(code, starter.name) for code, starter in STARTERS.items()],
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Choose at least one.")},
    )
