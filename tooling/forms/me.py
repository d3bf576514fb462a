"""What a person sets for themselves."""

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.models import Units


class SettingsForm(forms.Form):
    """The units that somebody reads and types in."""

    units = forms.ChoiceField(label=_("Numbers in"), choices=Units.choices, widget=forms.RadioSelect)
