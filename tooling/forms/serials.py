"""What is asked of serial numbers: one of them, or a tool and a stretch of days; and as of when it was known."""

from datetime import datetime, tzinfo
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.models import Tool
from tooling.selectors.tool import found
from tooling.services.times import EARLIEST, LATEST, moment

LONGEST = 200
_DAY = {"invalid": _("Write the day as 2026-05-31.")}


def _day(label: Any) -> forms.DateField:
    return forms.DateField(
        label=label,
        required=False,
        input_formats=["%Y-%m-%d", "%d.%m.%Y"],
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages=_DAY,
    )


class FindSerialForm(forms.Form):
    """The one box."""

    q = forms.CharField(
        label=_("Serial number"),
        required=False,
        max_length=LONGEST,
        widget=forms.TextInput(attrs={"type": "search", "autocapitalize": "off", "spellcheck": "false"}),
        error_messages={"max_length": _("That is longer than any serial number: %(limit_value)d letters at most.")},
    )


class StretchForm(forms.Form):
    """A tool, and from which day to which, both included; a day left empty is no bound."""

    tool = forms.CharField(
        label=_("Tool"),
        max_length=100,
        error_messages={"required": _("Say which tool: its code.")},
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "spellcheck": "false", "autocomplete": "off"}),
    )
    until = _day(_("Until"))

    field_order = ("tool", "from", "until")

    def __init__(self, data: Any = None) -> None:
        super().__init__(data)
        self.fields["from"] = _day(_("From"))
        self.order_fields(self.field_order)

    def clean_tool(self) -> Tool:
        """The tool that has or once had the code."""
        code = self.cleaned_data["tool"]
        tool = found(code)
        if tool is None:
            raise forms.ValidationError(_now("No tool has or had the code “%(code)s”.") % {"code": code})
        return tool

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        since, until = data.get("from"), data.get("until")
        for name, day in (("from", since), ("until", until)):
            if day is not None and not EARLIEST.year <= day.year < LATEST.year:
                self.add_error(name, _now("No tool of a shop was in use in that year."))
        if since and until and until < since:
            self.add_error("until", _now("That is before the first day: turn them round, or leave one empty."))
        return data


class KnownForm(forms.Form):
    """As of when it was known; empty is now."""

    known_at = forms.CharField(
        label=_("As it was known on"),
        required=False,
        max_length=40,
        widget=forms.TextInput(attrs={"type": "datetime-local"}),
    )

    def __init__(self, data: Any, *, zone: tzinfo, now: datetime) -> None:
        super().__init__(data)
        self.zone, self.now = zone, now

    def clean_known_at(self) -> datetime | None:
        """The moment in the shop's zone; of a day by itself its end, and of this day now."""
        text = self.cleaned_data["known_at"].strip()
        is_day = 0 < len(text) <= len("2025-12-31")
        try:
            at = moment(f"{text}T23:59" if is_day else text, self.zone)
        except Refused as refused:
            raise forms.ValidationError(refused.message) from refused
        if at is None or at < self.now:
            return at
        if is_day and at.astimezone(self.zone).date() == self.now.astimezone(self.zone).date():
            return None
        raise forms.ValidationError(_now("That is still to come: choose a time that is past."))
