"""Stopping a tool, and looking at it."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm, chips, ticks, words
from tooling.forms.deeds.hands import ask_anew
from tooling.forms.deeds.pictures import WithPictures
from tooling.words.terms import PLACES

SEEN = {
    "chipped": _("chipped edge"),
    "crack": _("crack"),
    "blister": _("blister"),
    "print_through": _("print-through"),
    "bent": _("bent"),
    "loose": _("loose"),
}


class HoldForm(WithPictures, DeedForm):
    """Why it is held, for whoever looks at it. All of it may be left."""

    CALLED = {"reason": "words"}

    # The entry of what was told to the lead, where the stop comes of it.
    of_told = forms.IntegerField(required=False, min_value=1, widget=forms.HiddenInput)

    seen = ticks(_("What"), list(SEEN.items()))
    places = ticks(_("Where on it"), list(PLACES.items()))
    words = words(_("In words"), lines=2)

    @property
    def reason(self) -> str:
        """Ticks and words as one line: chipped edge, flange: by the second bolt."""
        data = self.cleaned_data
        ticked = [SEEN[one] for one in data["seen"]] + [PLACES[one] for one in data["places"]]
        return ": ".join(text for text in (", ".join(map(str, ticked)), data["words"]) if text)


class TellForm(WithPictures, DeedForm):
    """Something for the lead: words, a picture, or both."""

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if not data.get("note", "").strip() and not data.get("pictures") and "note" not in self.errors:
            self.add_error("note", _now("Say it in words, or add a picture."))
        return data


class LookedAtForm(WithPictures, DeedForm):
    """Whether it may be used."""

    passed = chips(
        _("May it be used?"),
        [("yes", _("yes, free it")), ("no", _("no, it stays held"))],
        required=True,
        error_messages={"required": _("Say whether it may be used.")},
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        if self.who.is_station:
            self.fields["by"].anew = True

    def clean(self) -> dict[str, Any]:
        """Freeing is one person's word: a shared tablet wants the PIN for it each time."""
        data = super().clean()
        if data.get("passed") == "yes":
            ask_anew(self, self.who)
        return data
