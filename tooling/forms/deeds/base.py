"""What every deed asks: whose hands, when, and a token so that twice is harmless."""

import datetime
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import AskFirst, Refused, TokenReused
from tooling.forms.deeds.hands import PersonField, ask_hands
from tooling.forms.deeds.when import (
    EARLIER,
    EXACT,
    NOW,
    OF_THE_TIME,
    WHEN,
    WHICH,
    YESTERDAY,
    exact_moment,
    not_ahead,
    one_of_two,
    says_its_zone,
)
from tooling.forms.token import TokenForm
from tooling.models import Person, Shop
from tooling.selectors.would import Would, would
from tooling.services.deeds.undo import sent_before
from tooling.services.trying import trying

LONG_TEXT = 1000
# Stands among the choices of what may be left open.
NOT_SAID = ("", _("not said"))
# A deed that was held up by a bad connection happened when it was first sent. Below a minute that is now.
SHORT_WAIT, LONGEST_WAIT = datetime.timedelta(minutes=1), datetime.timedelta(hours=12)


def words(label: Any, *, lines: int = 1, longest: int = LONG_TEXT, **more: Any) -> forms.CharField:
    """A field for free words that may be left empty."""
    widget = forms.TextInput() if lines == 1 else forms.Textarea(attrs={"rows": lines})
    return forms.CharField(label=label, required=False, max_length=longest, widget=widget, **more)


def chips(label: Any, choices: Any, *, required: bool = False, **more: Any) -> forms.ChoiceField:
    """One of a few words, each a chip to tap."""
    return forms.ChoiceField(label=label, choices=choices, required=required, widget=forms.RadioSelect, **more)


def ticks(label: Any, choices: Any) -> forms.MultipleChoiceField:
    """Any of a few words, each a chip to tick."""
    return forms.MultipleChoiceField(label=label, choices=choices, required=False, widget=forms.CheckboxSelectMultiple)


class ShownFirst(Exception):
    """Nothing was written yet: the page first says what it would do to the tools as they stand today."""


class DeedForm(TokenForm):
    """Token, hands and time. `who` is signed in: a hand is itself, a lead may name another, a station must be told."""

    # Where a refusal names a field that this form calls otherwise.
    CALLED: dict[str, str] = {}
    TIME_WANTED: Any = _("At what time?")
    # Whether it is shown beforehand even where it changes nothing today; and the field that its buttons answer.
    ALWAYS_SHOWN = False
    PRESSED = ""

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
    of_two = chips(_("Which of the two"), WHICH)
    note = words(_("In words"), lines=2)
    # Seconds since it was first sent, by the page's own count.
    waited = forms.IntegerField(required=False, min_value=0, max_value=10**9, widget=forms.HiddenInput)
    # What the page has shown of its effect. `look`: it is only asked for that.
    shown = forms.CharField(required=False, max_length=16, widget=forms.HiddenInput)
    look = forms.BooleanField(required=False, widget=forms.HiddenInput)

    def __init__(
        self, data: Any = None, *, who: Person, shop: Shop, now: datetime.datetime, kept: bool = False, **more: Any
    ) -> None:
        """`kept`: the data was sent by somebody who was not signed in; it is shown, and written when sent again."""
        self.who, self.shop, self.now, self.kept = who, shop, now, kept
        self.would: Would | None = None
        self.twice = False
        self.looking = bool(data is not None and data.get("look"))
        super().__init__(data, **more)
        self.fields["at_exact"].widget.input_type = "datetime-local"
        ask_hands(self, who, at=now)

    @property
    def today(self) -> datetime.date:
        """The day in the shop."""
        return self.now.astimezone(self.shop.zone).date()

    @property
    def hands_alone(self) -> bool:
        """Whether a station only wants the name, or its PIN, once more."""
        return self.who.is_station and list(self.errors) == ["by"]

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if self.kept:
            self.add_error(None, _now("You were not signed in. Look it over and send it."))
        self.say_lost_token()
        at = None
        with self.told():
            at = self._at(data)
        data["at"] = at
        if at is None and data.get("waited") and self._waited > LONGEST_WAIT:
            self.add_error("at" if "at" in self.fields else None, _now("It was first sent long ago. Say when it was."))
        return data

    @property
    def was_sent(self) -> bool:
        """Whether it was written already: then it gets its first answer again, however things stand by now."""
        return sent_before(self.cleaned_data.get("token"))

    @property
    def _waited(self) -> datetime.timedelta:
        return datetime.timedelta(seconds=self.cleaned_data.get("waited") or 0)

    def _at(self, data: dict[str, Any]) -> datetime.datetime | None:
        """None stands for now: the ledger's own clock says when that is."""
        choice = data.get("at") or NOW
        if choice == EXACT:
            return self.typed_moment(data.get("at_exact", ""), "at_exact")
        if choice not in (EARLIER, YESTERDAY) or "at_time" in self.errors:
            return None
        if data.get("at_time") is None:
            raise Refused(str(self.TIME_WANTED), "at_time")
        of = self.today - datetime.timedelta(days=choice == YESTERDAY)
        return self.typed_moment(f"{of} {data['at_time']:%H:%M:%S}", "at_time")

    def typed_moment(self, text: str, field: str) -> datetime.datetime:
        """The instant of a typed day and time; one of a night when the clocks went back is asked about."""
        at = exact_moment(text, self.shop, field)
        if not says_its_zone(text):
            self.twice, at = one_of_two(at, self.shop.zone, self.data.get("of_two"))
            if at is None:
                said = _now("The clocks went back that night and showed this time twice. Say which it was.")
                raise Refused(said, field)
        return not_ahead(at, self.now, field)

    @contextmanager
    def told(self) -> Iterator[None]:
        """A refusal inside becomes a message at its field, or at the top of the form."""
        try:
            yield
        except ShownFirst:
            pass
        except (AskFirst, TokenReused):
            raise
        except Refused as refused:
            field = self.CALLED.get(refused.field, refused.field)
            self.add_error(field if field in self.fields else None, refused.message)

    def write_down(self, deed: Callable[..., Any], about: Any, **facts: Any) -> Any:
        """Does the deed. A late one, and one that takes back, is first shown with what it does to today's state.

        Raises ShownFirst where the page has not shown it yet, or where that no longer holds.
        """
        told = {**facts, **self._told()}
        late = self.ALWAYS_SHOWN or self.cleaned_data["at"] is not None
        if (late or self.looking) and not self.was_sent:
            if late:
                self.show(deed, about, **told)
            wanted = self.would is not None and (self.ALWAYS_SHOWN or self.would.matters)
            if self.looking or (wanted and self.cleaned_data["shown"] != self.would.key):  # type: ignore[union-attr]
                raise ShownFirst
        return deed(about, **told)

    def show(self, deed: Callable[..., Any], about: Any, **told: Any) -> None:
        """Works out what the deed would do, without doing it."""
        with trying() as entries:
            deed(about, **told)
        self.would = would(entries, self.now)

    @property
    def time_asked(self) -> bool:
        """Whether its chips are shown at once: it was another time, something is wrong there, or it is shown first."""
        wrong = any(self.errors.get(name) for name in OF_THE_TIME)
        return wrong or self.would is not None or self["at"].value() not in (None, "", NOW)

    @property
    def pressed(self) -> tuple[str, str]:
        """The answer that was given by a button: the button that writes what was shown gives it again."""
        return (self.PRESSED, self.data.get(self.PRESSED, "")) if self.PRESSED and self.is_bound else ("", "")

    def said(self) -> dict[str, Any]:
        """What every deed is told besides its own facts. Raises ShownFirst where the page only asks what it does."""
        if self.looking:
            raise ShownFirst
        return self._told()

    def _told(self) -> dict[str, Any]:
        data = self.cleaned_data
        return {
            "by": data.get("by") or self.who,
            "recorded_by": self.who,
            "at": data["at"],
            "token": data["token"],
            "note": data.get("note", ""),
            "ago": self._waited if self._waited >= SHORT_WAIT else None,
        }
