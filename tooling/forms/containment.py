"""Parts in doubt that somebody looked at: which of them, whether they are good, and words."""

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm, words
from tooling.models import Verdict
from tooling.services.containment import LONGEST_WORDS

ALL, LEFT, BAD = "", "left", "not_good"
SHOWN = ((ALL, _("All")), (LEFT, _("Not looked at yet")), (BAD, _("Not good")))


class MarkForm(DeedForm):
    """Some of the lines of the page, each by its key, and one verdict for all of them, given by its button."""

    parts = forms.MultipleChoiceField(
        label=_("Parts"), error_messages={"required": _("Tick the parts that you looked at.")}
    )
    found = forms.ChoiceField(label=_("What was found"), choices=Verdict.choices)
    words = words(_("In words, wanted where it is not good"), longest=LONGEST_WORDS)

    def __init__(self, *args: Any, keys: Iterable[str], **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["parts"].choices = [(key, key) for key in keys]
        self.fields["parts"].error_messages["invalid_choice"] = _("A part that you ticked is not in doubt any more.")
        self.initial.setdefault("at", "now")

    @property
    def ticked(self) -> Sequence[str]:
        """What was ticked, also where something else is wrong."""
        return self.data.getlist("parts") if self.is_bound and hasattr(self.data, "getlist") else ()


class FindLotForm(forms.Form):
    """The one box."""

    q = forms.CharField(
        label=_("Lot"),
        required=False,
        max_length=200,
        widget=forms.TextInput(attrs={"type": "search", "autocapitalize": "off", "spellcheck": "false"}),
    )
