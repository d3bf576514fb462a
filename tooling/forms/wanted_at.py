"""By when a part is wanted: a day and a time, in the address of its page."""

from datetime import datetime
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.forms.deeds.base import words
from tooling.forms.deeds.when import exact_moment
from tooling.models import Shop


class WantedAtForm(forms.Form):
    """Asked with GET: what was typed stays in the field, whatever is wrong with it."""

    wanted = words(_("Lay-up wanted at"), longest=40)

    def __init__(self, *args: Any, shop: Shop, **more: Any) -> None:
        super().__init__(*args, **more)
        self.shop = shop
        self.fields["wanted"].widget.input_type = "datetime-local"

    def clean_wanted(self) -> datetime | None:
        """The instant that is meant, in the shop's zone; None where nothing was typed."""
        text = self.cleaned_data["wanted"].strip()
        if not text:
            return None
        try:
            return exact_moment(text, self.shop, "wanted")
        except Refused as refused:
            raise forms.ValidationError(refused.message) from refused
