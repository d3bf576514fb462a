"""The settings of the shop, typed as a person thinks of them and stored as the sheet has them."""

from datetime import date, timedelta
from hashlib import sha256
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.models import Shop
from tooling.models.shop import check_hands, check_time_zone
from tooling.models.shop_hours import (
    LONG,
    MOST_SHUT,
    SHORT,
    ImpossibleHours,
    Windows,
    check_closed_days,
    check_days,
    check_ever_open,
    days_of,
    to_days,
)  # fmt: skip
from tooling.words.shop import LABELS, day_in_words
from tooling.words.week import day_text, read_day, to_text

COLUMNS = tuple(LABELS)
_NUMBERS = {
    "hands": (1, _("How many people work on the floor.")),
    "retention_years": (0, _("How long records must be kept, by contract or law. Empty: for good.")),
    "backup_days": (0, _("When the last backup is older, the morning board says so. 0: it never does.")),
}


def zones() -> list[str]:
    """The names of zones that a browser may offer."""
    return sorted(name for name in available_timezones() if "/" in name and not name.startswith(("Etc/", "posix")))


class ShopForm(forms.Form):
    """Every setting. What was changed is handed on in the words of the sheet."""

    seen = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    name = forms.CharField(label=LABELS["name"], max_length=200, help_text=_("It stands on every page."))
    time_zone = forms.CharField(
        label=LABELS["time_zone"],
        max_length=64,
        validators=[check_time_zone],
        help_text=_("As in Europe/Lisbon or America/Halifax. Days begin and end by it."),
        widget=forms.TextInput(attrs={"list": "zones", "autocomplete": "off", "spellcheck": "false"}),
    )
    formal_records = forms.ChoiceField(
        label=LABELS["formal_records"],
        choices=[("no", _("no")), ("yes", _("yes"))],
        widget=forms.RadioSelect,
        help_text=_("With them whoever held a tool cannot free it, and a tool is accepted with its evidence."),
    )
    closed = forms.TypedMultipleChoiceField(
        label=LABELS["closed_days"],
        required=False,
        coerce=date.fromisoformat,
        widget=forms.CheckboxSelectMultiple,
    )
    closed_from = forms.DateField(label=_("Closed on, or from"), required=False)
    closed_until = forms.DateField(label=_("Until, if it is more than a day"), required=False)

    def __init__(self, shop: Shop, data: Any = None) -> None:
        """`shop` as it stands."""
        self.shop = shop
        self.stood = sha256(repr([getattr(shop, name) for name in COLUMNS]).encode()).hexdigest()[:16]
        self.closed_now = days_of(shop.closed_days)
        super().__init__(data, initial=self._as_it_stands())
        for name, (least, help_text) in _NUMBERS.items():
            limits = {"validators": [check_hands]} if name == "hands" else {"min_value": least, "max_value": 1000}
            self.fields[name] = forms.IntegerField(
                label=LABELS[name],
                required=name == "backup_days",
                **limits,
                help_text=help_text,
                widget=forms.TextInput(attrs={"inputmode": "numeric"}),
            )
        for short, long in zip(SHORT, LONG, strict=True):
            self.fields[short] = forms.CharField(label=long, required=False, max_length=100)
        self.fields["closed"].choices = [(day.isoformat(), day_in_words(day)) for day in self.closed_now]
        for name in ("closed_from", "closed_until"):
            self.fields[name].widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")

    def _as_it_stands(self) -> dict[str, Any]:
        stands = {name: getattr(self.shop, name) for name in ("name", "time_zone", *_NUMBERS)}
        days = zip(SHORT, to_days(self.shop.week), strict=True)
        return {
            **stands,
            **{short: day_text(windows) for short, windows in days},
            "formal_records": "yes" if self.shop.formal_records else "no",
            "closed": [day.isoformat() for day in self.closed_now],
            "seen": self.stood,
        }

    @property
    def week_days(self) -> list[forms.BoundField]:
        """The seven days."""
        return [self[short] for short in SHORT]

    def clean(self) -> dict[str, Any]:
        """Reads hours and closed days, and refuses a change of what somebody else changed meanwhile."""
        data = super().clean() or {}
        days = self._days(data)
        closed = self._closed(data)
        data["week"] = to_text(days)
        data["closed_days"] = ", ".join(day.isoformat() for day in closed)
        try:
            check_closed_days(data["closed_days"])
            check_ever_open(days, closed)
        except ValidationError as wrong:
            self.add_error("closed_from" if data.get("closed_from") else "closed", wrong)
        if not self.errors and data.get("seen") != self.stood and self.changes():
            self.add_error(None, _now("This was changed meanwhile. Open the page anew and look at it first."))
        return data

    def _days(self, data: dict[str, Any]) -> tuple[Windows, ...]:
        """The seven days as typed; what cannot be is said at its day."""
        days = tuple(self._day(short, data.get(short, "")) for short in SHORT)
        if self.shop.week and not any(days) and not self.errors.keys() & set(SHORT):
            self.add_error(SHORT[0], _now("Closed on every day? Say the hours of one day at least, as in 08:00-17:00."))
        try:
            check_days(days)
        except ImpossibleHours as wrong:
            self.add_error(SHORT[wrong.day], str(wrong))
        return days

    def _day(self, short: str, text: str) -> Windows:
        try:
            return read_day(text)
        except ValueError as wrong:
            self.add_error(short, str(wrong))
            return ()

    def _closed(self, data: dict[str, Any]) -> list[date]:
        first = data.get("closed_from")
        last = data.get("closed_until") or first
        if first is None:
            if last is not None:
                self.add_error("closed_from", _now("From which day on?"))
            return sorted(data.get("closed", []))
        if not 0 <= (last - first).days <= MOST_SHUT:
            self.add_error("closed_until", _now("It lies after the first day, and at most a year after it."))
            return []
        more = [first + timedelta(days=n) for n in range((last - first).days + 1)]
        return sorted({*data.get("closed", []), *more})

    def changes(self) -> dict[str, Any]:
        """The settings that are another than they stand, in the words of the sheet."""
        said = {name: self.cleaned_data[name] for name in COLUMNS if name in self.cleaned_data}
        said["formal_records"] = said.get("formal_records") == "yes"
        return {name: value for name, value in said.items() if not self._same(name, value)}

    def _same(self, name: str, value: Any) -> bool:
        stands = getattr(self.shop, name)
        if name == "week":
            return to_days(value) == to_days(stands)
        return days_of(value) == self.closed_now if name == "closed_days" else bool(value == stands)

    def told(self, field: str, message: str) -> None:
        """What the service refused, at its field."""
        self.add_error({"closed_days": "closed", "week": "Mon"}.get(field, field) or None, ValidationError(message))
