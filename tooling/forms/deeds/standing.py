"""Stopping a tool, and telling the lead of it."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm, ticks, words
from tooling.forms.deeds.pictures import WithPictures
from tooling.words.terms import DEFECTS, SPOTS, spots_of


class HoldForm(WithPictures, DeedForm):
    """Why it is held, for whoever looks at it. All of it may be left. `kind`: that of the tool."""

    CALLED = {"reason": "words"}

    # The entry of what was told to the lead, where the stop comes of it.
    of_told = forms.IntegerField(required=False, min_value=1, widget=forms.HiddenInput)

    seen = ticks(_("What"), list(DEFECTS.items()))
    places = ticks(_("Where on it"), list(SPOTS.items()))
    words = words(_("In words"), lines=2)

    def __init__(self, *args: Any, kind: str, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["places"].choices = spots_of(kind)

    @property
    def reason(self) -> str:
        """Ticks and words as one line: chip, flange: by the second bolt."""
        data = self.cleaned_data
        ticked = [DEFECTS[one] for one in data["seen"]] + [SPOTS[one] for one in data["places"]]
        return ": ".join(text for text in (", ".join(map(str, ticked)), data["words"]) if text)


class TellForm(WithPictures, DeedForm):
    """Something for the lead: words, a picture, or both."""

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if not data.get("note", "").strip() and not data.get("pictures") and "note" not in self.errors:
            self.add_error("note", _now("Say it in words, or add a picture."))
        return data
