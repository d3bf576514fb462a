"""The tag of a tool is lost: whose hands say so, and nothing else."""

import datetime
from typing import Any

from django import forms

from tooling.forms.deeds.hands import PersonField, ask_hands
from tooling.models import Person


class TagLostForm(forms.Form):
    """A hand is itself; a station must be told."""

    by = PersonField(queryset=Person.objects.none(), empty_label=None)

    def __init__(self, data: Any = None, *, who: Person, now: datetime.datetime) -> None:
        """`who` is signed in."""
        super().__init__(data)
        self.who, self.kept = who, False
        if who.is_station:
            ask_hands(self, who, at=now)
        else:
            del self.fields["by"]

    @property
    def hands_alone(self) -> bool:
        """Whether a station only wants the name, or its PIN, once more."""
        return self.who.is_station and bool(self.errors)

    @property
    def hands(self) -> Person:
        """Whose hands they are."""
        return self.cleaned_data.get("by") or self.who
