"""Rights: a day that is asked about, one that is given, one that ends."""

from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.told import Told
from tooling.models import May, Person, Right
from tooling.selectors.hands import hands
from tooling.words.rights import MAY


def _day(label: Any, **more: Any) -> forms.DateField:
    return forms.DateField(
        label=label,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": _("Write the day as 2026-05-12."), "required": _("Say which day.")},
        **more,
    )


class AskedDayForm(forms.Form):
    """Who might, that day. Without a person it is asked of everybody."""

    person = forms.ModelChoiceField(
        label=_("Who"),
        queryset=Person.objects.none(),
        required=False,
        empty_label=_("everybody"),
        error_messages={"invalid_choice": _("Choose one of the people.")},
    )
    day = _day(_("On which day"), required=False)

    def __init__(self, data: Any, **more: Any) -> None:
        super().__init__(data, **more)
        field: Any = self.fields["person"]
        named = Right.objects.values("person")
        field.queryset = (hands() | Person.objects.filter(pk__in=named)).order_by("name_key")


class GiveForm(Told):
    """What somebody may do, from a day on."""

    may = forms.ChoiceField(
        label=_("May"),
        choices=[(one.value, MAY[one]) for one in May],
        widget=forms.RadioSelect,
        error_messages={"required": _("Choose what they may do."), "invalid_choice": _("Choose what they may do.")},
    )
    since = _day(_("From"))
    until = _day(_("Last day"), required=False, help_text=_("Empty: until somebody ends it."))


class EndForm(Told):
    """The last day of one of somebody's rights."""

    until = _day(_("Last day"))

    def __init__(self, data: Any = None, *, right: Right, today: date, **more: Any) -> None:
        super().__init__(data, prefix=f"end-{right.pk}", initial={"until": max(today, right.since)}, **more)
        self.right = right
        self.fields["until"].widget.attrs["aria-label"] = _now("Last day of: %(may)s") % {"may": MAY[May(right.may)]}
