"""How a half came off, and nothing else."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import DeedForm
from tooling.forms.deeds.when import OF_THE_TIME
from tooling.words.terms import CAME_OFF


class HowOffForm(DeedForm):
    """One of the five marks, by whoever saw it."""

    came_off = forms.ChoiceField(
        choices=list(CAME_OFF.items()), error_messages={"required": _("Tap one of the five marks.")}
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        for name in (*OF_THE_TIME, "note"):
            del self.fields[name]
        if not self.who.is_station:
            self.fields.pop("by", None)

    def _at(self, data: dict[str, Any]) -> None:
        return None
