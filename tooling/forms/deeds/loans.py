"""To whom a tool is lent and until when, and that it is back."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import DayField
from tooling.forms.deeds.all_the_same import AskedFirst
from tooling.forms.deeds.base import DeedForm, chips, words
from tooling.forms.deeds.pictures import WithPictures
from tooling.models import Entry, Summary
from tooling.selectors.loans import before_lending, chips_until, lent_to_before, loan_at
from tooling.services.deeds.loan_rules import wrong_with
from tooling.words.when import plain_day

LONGEST_NAME = 120


def day_field(label: Any) -> DayField:
    """A day that may be left open."""
    wrong = _("Write the day as 2026-05-15.")
    widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    return DayField(
        label=label, required=False, widget=widget, input_formats=["%Y-%m-%d"], error_messages={"invalid": wrong}
    )


class LendForm(AskedFirst, WithPictures, DeedForm):
    """A name out of those that had a tool before, or in words; a day by a tap, another one, or none."""

    CALLED = {"until": "day"}

    to = chips(_("To whom"), ())
    person = words(_("Somebody else, or a company"), longest=LONGEST_NAME)
    until = chips(_("Until"), (), initial="")
    day = day_field(_("Until another day"))

    def __init__(self, *args: Any, summary: Summary, **more: Any) -> None:
        super().__init__(*args, **more)
        self.summary = summary
        names = _with(lent_to_before(), summary.lent_to if summary.lent else "")
        if names:
            self.fields["to"].choices = [(name, name) for name in names]
            if summary.lent:
                self.initial["to"] = summary.lent_to
        else:
            del self.fields["to"]
            self.fields["person"].label = _now("To whom: a name, or a company")
        days = [(f"{day}", f"{said}, {plain_day(day)}") for day, said in chips_until(self.today)]
        days = self._agreed(days)
        self.fields["until"].choices = [*self._sent_day(days), *days, ("", _now("no day agreed"))]

    def _agreed(self, days: list[tuple[str, str]]) -> list[tuple[str, str]]:
        """Lent on, or for longer: the day that was agreed stays proposed."""
        agreed = self.summary.lent_until if self.summary.lent else None
        if agreed is None or agreed < self.today:
            return days
        self.initial["until"] = f"{agreed}"
        others = [one for one in days if one[0] != f"{agreed}"]
        return [(f"{agreed}", _now("as agreed, %(day)s") % {"day": plain_day(agreed)}), *others]

    def _sent_day(self, days: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
        """The day of a page that was opened before midnight is still a day."""
        sent = self.data.get("until", "") if self.is_bound else ""
        try:
            return [] if sent in dict(days) else [(sent, plain_day(date.fromisoformat(sent)))]
        except ValueError:
            return []

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        data["person"] = data.get("person", "").strip() or data.get("to", "")
        chosen = data.get("until")
        data["until"] = data.get("day") or (date.fromisoformat(chosen) if chosen else None)
        if not self.errors.keys() & {"to", "person", "until", "day"}:
            lent_on = (data.get("at") or self.now).astimezone(self.shop.zone).date()
            for field, text in wrong_with(data["person"], data["until"], lent_on).items():
                self.add_error(self.CALLED.get(field, field), text)
        return data

    def doubts(self, data: dict[str, Any]) -> list[str]:
        return before_lending(self.summary, data["person"])


class HandBackForm(WithPictures, DeedForm):
    """Back from whoever had it."""

    TIME_WANTED = _("At what time was it handed back?")

    def __init__(self, *args: Any, summary: Summary, **more: Any) -> None:
        super().__init__(*args, **more)
        self.summary = summary

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        nobody = not self.errors and not self.was_sent and loan_at(self.summary.tool, data["at"] or self.now) is None
        if nobody:
            self.add_error(None, _now("By its history nobody had it then, so there is nothing to hand back."))
        return data


def fields(entry: Entry) -> dict[str, forms.Field]:
    """What a correction of a loan asks."""
    return {"person": words(_("To whom"), longest=LONGEST_NAME), "until": day_field(_("Until"))}


def kept(facts: dict[str, Any]) -> dict[str, Any]:
    """As the entry keeps it."""
    return {name: said.isoformat() if isinstance(said, date) else said for name, said in facts.items()}


def _with(names: list[str], now: str) -> list[str]:
    return names if not now or now.casefold() in {name.casefold() for name in names} else [now, *names]
