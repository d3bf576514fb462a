"""What every deed asks: whose hands, when, and a token so that twice is harmless."""

import datetime
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import AskFirst, Refused, TokenReused
from tooling.calc.check import FUTURE
from tooling.forms.deeds.hands import PersonField, ask_hands
from tooling.models import Person, Shop
from tooling.services.times import moment

NOW, EARLIER, YESTERDAY, EXACT = "now", "earlier", "yesterday", "exact"
WHEN = [(NOW, _("just now")), (EARLIER, _("earlier today")), (YESTERDAY, _("yesterday")), (EXACT, _("another day"))]
LONG_TEXT = 1000


def exact_moment(text: str, shop: Shop, field: str = "at_exact") -> datetime.datetime:
    """The instant of a typed date and time; Refused where it cannot be meant."""
    at = moment(text, shop.zone, field)
    if at is None:
        raise Refused(_now("Say the day and the time."), field)
    return at


def words(label: Any, *, lines: int = 1, longest: int = LONG_TEXT, **more: Any) -> forms.CharField:
    """A field for free words that may be left empty."""
    widget = forms.TextInput() if lines == 1 else forms.Textarea(attrs={"rows": lines})
    return forms.CharField(label=label, required=False, max_length=longest, widget=widget, **more)


def chips(label: Any, choices: Any, *, required: bool = False, **more: Any) -> forms.ChoiceField:
    """One of a few words, each a chip to tap."""
    return forms.ChoiceField(label=label, choices=choices, required=required, widget=forms.RadioSelect, **more)


class DeedForm(forms.Form):
    """Token, hands and time. `who` is signed in: a hand is itself, a lead may name another, a station must be told."""

    # Where a refusal names a field that this form calls otherwise.
    CALLED: dict[str, str] = {}
    TIME_WANTED: Any = _("At what time?")

    token = forms.UUIDField(widget=forms.HiddenInput)
    by = PersonField(label=_("Whose hands?"), queryset=Person.objects.none(), empty_label=None)
    at = chips(_("When"), WHEN, initial=NOW)
    at_time = forms.TimeField(
        label=_("At what time"),
        required=False,
        input_formats=["%H:%M", "%H:%M:%S", "%H.%M", "%H%M"],
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
        error_messages={"invalid": _("Write the time as 14:05.")},
    )
    at_exact = words(_("Day and time"), longest=40)
    note = words(_("In words"), lines=2)

    def __init__(
        self, data: Any = None, *, who: Person, shop: Shop, now: datetime.datetime, kept: bool = False, **more: Any
    ) -> None:
        """`kept`: the data was sent by somebody who was not signed in; it is shown, and written when sent again."""
        self.who, self.shop, self.now, self.kept = who, shop, now, kept
        self.lost_token = data is not None and not _is_token(data.get("token", ""))
        if self.lost_token:
            data = data.copy()
            data["token"] = str(uuid4())
        super().__init__(data, **more)
        self.initial.setdefault("token", uuid4())
        self.fields["at_exact"].widget.input_type = "datetime-local"
        ask_hands(self, who, at=now)

    @property
    def today(self) -> datetime.date:
        """The day in the shop."""
        return self.now.astimezone(self.shop.zone).date()

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if self.kept:
            self.add_error(None, _now("You were not signed in. Look it over and send it."))
        if self.lost_token:
            message = _now("This page had lost what keeps it from being sent twice. Look it over and send it again.")
            self.add_error(None, message)
        at = None
        with self.told():
            at = self._at(data)
        data["at"] = at
        return data

    def _at(self, data: dict[str, Any]) -> datetime.datetime | None:
        """None stands for now: the ledger's own clock says when that is."""
        choice = data.get("at") or NOW
        if choice == EXACT:
            return self._not_ahead(exact_moment(data.get("at_exact", ""), self.shop), "at_exact")
        if choice not in (EARLIER, YESTERDAY) or "at_time" in self.errors:
            return None
        if data.get("at_time") is None:
            raise Refused(str(self.TIME_WANTED), "at_time")
        of = self.today - datetime.timedelta(days=choice == YESTERDAY)
        at = moment(f"{of} {data['at_time']:%H:%M:%S}", self.shop.zone, "at_time")
        return self._not_ahead(at, "at_time")

    def _not_ahead(self, at: datetime.datetime | None, field: str) -> datetime.datetime | None:
        """The ledger refuses it as well; here it is said beside the time that was typed."""
        if at is not None and at > self.now + FUTURE:
            raise Refused(_now("That is still to come. Write down what has happened, when it has."), field)
        return at

    @contextmanager
    def told(self) -> Iterator[None]:
        """A refusal inside becomes a message at its field, or at the top of the form."""
        try:
            yield
        except (AskFirst, TokenReused):
            raise
        except Refused as refused:
            field = self.CALLED.get(refused.field, refused.field)
            self.add_error(field if field in self.fields else None, refused.message)

    def said(self) -> dict[str, Any]:
        """What every deed is told besides its own facts."""
        data = self.cleaned_data
        return {
            "by": data.get("by") or self.who,
            "recorded_by": self.who,
            "at": data["at"],
            "token": data["token"],
            "note": data.get("note", ""),
        }


def _is_token(text: str) -> bool:
    try:
        return bool(UUID(text))
    except (ValueError, AttributeError, TypeError):
        return False
