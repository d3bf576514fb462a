"""Where a tool is put."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import PlaceField
from tooling.forms.deeds.base import DeedForm
from tooling.models import Place


class MoveForm(DeedForm):
    """A place, and for a lead whether its home is there from now on."""

    place = PlaceField(
        Place.objects.order_by("code"),
        label=_("Where to"),
        empty_label=_("choose a place"),
        error_messages={"required": _("Where was it put?"), "invalid_choice": _("Choose one of the places.")},
    )
    home = forms.BooleanField(label=_("Its home is there from now on"), required=False)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        if not self.who.can_lead:
            del self.fields["home"]


class HomeForm(forms.Form):
    """One tap: what the page knew when it offered it."""

    token = forms.UUIDField(widget=forms.HiddenInput)
    place = forms.CharField(max_length=16, widget=forms.HiddenInput)
