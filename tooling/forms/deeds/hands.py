"""Whose hands it was: one home for every form that asks, and the only one where a station takes a name."""

from datetime import datetime
from functools import cached_property
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from shared import clock
from shared.errors import Refused
from shared.keep_typed import PIN
from tooling.models import Person
from tooling.selectors.hands import Offered, hands, offered
from tooling.services import shifts


class PersonField(forms.ModelChoiceField):
    """A person, shown by the name alone. At a `station` the name holds with the PIN, or while the person is in."""

    default_error_messages = {
        "required": _("Whose hands were it?"),
        "invalid_choice": _("Choose one of the names."),
    }
    station: Person | None = None
    pin = ""
    anew = False
    at: datetime

    def clean(self, value: Any) -> Person | None:
        """The person; at a station only one who is known there for this shift. It writes who is in: before any deed.

        The PIN is no field: nothing of it is in what was typed, so nothing can show, keep or send it again.
        """
        person = super().clean(value)
        if self.station is None or person is None:
            return person
        try:
            shifts.let_in(self.station, person, pin=self.pin, at=self.at)
        except Refused as refused:
            raise ValidationError(refused.message, code=refused.field) from refused
        return person

    @cached_property
    def offered(self) -> list[Offered]:
        """The names as a station shows them."""
        return [] if self.station is None else offered(self.station, self.queryset, self.at, anew=self.anew)

    @property
    def asks_pin(self) -> bool:
        """Whether any of the names wants its PIN."""
        return any(one.wants_pin for one in self.offered)


def ask_anew(form: forms.Form, who: Person) -> None:
    """For what one person alone may do: the PIN again, though the person is in. Call it once the form is cleaned.

    Where nobody has a PIN the name alone is taken, as everywhere at that station.
    """
    person = form.cleaned_data.get("by")
    if not who.is_station or person is None:
        return
    field = form.fields["by"]
    field.anew = True
    try:
        shifts.let_in(who, person, pin=field.pin, at=field.at, anew=True)
    except Refused as refused:
        form.add_error("by", refused.message)


def ask_hands(form: forms.Form, who: Person, *, at: datetime | None = None, of: QuerySet[Person] | None = None) -> None:
    """Makes the field `by` ask whose hands: a hand is itself, a lead may name another, a station must be told.

    A station takes the PIN beside the name, once a shift. `of`: those it can have been.
    """
    if not (who.is_station or who.can_lead):
        del form.fields["by"]
        return
    by = form.fields["by"]
    by.queryset = hands() if of is None else of
    if not who.is_station:
        by.initial = who
        return
    by.widget = forms.RadioSelect(choices=by.choices)
    by.station, by.at = who, at or clock.now()
    by.pin = form.data.get(PIN, "") if form.is_bound else ""
