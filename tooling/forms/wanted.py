"""What is wanted: a part comes on the list, and what is changed of one that is on it."""

from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.forms import QuickSelect
from tooling.forms.token import TokenForm
from tooling.forms.told import Told
from tooling.models import Part, PartRevision, Wanted
from tooling.models.wanted import LEAST_WANTED, MOST_WANTED
from tooling.selectors.parts import chosen_from, found, near

# As many as a list to choose from holds; beyond that a number is typed.
MOST_CHOICES = 300
_RANGE = _("From 1 to 500.")


def _count() -> forms.IntegerField:
    return forms.IntegerField(
        label=_("How many"),
        initial=1,
        min_value=LEAST_WANTED,
        max_value=MOST_WANTED,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
        error_messages={
            "required": _("How many are wanted?"),
            "invalid": _("Write a whole number."),
            "min_value": _RANGE,
            "max_value": _RANGE,
        },
    )


def _day() -> forms.DateField:
    return forms.DateField(
        label=_("For which day"),
        required=False,
        help_text=_("Empty: from now on."),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": _("Write the day as 2026-05-12.")},
    )


class WantForm(TokenForm, Told):
    """A part and how many. Where there are many parts the number is typed, with those that there are offered."""

    part = forms.CharField(
        label=_("Want a part"), max_length=80, error_messages={"required": _("Which part is wanted?")}
    )
    count = _count()
    day = _day()

    def __init__(self, data: Any = None, *, short: bool = False, **more: Any) -> None:
        """`short`: as it stands beside the board, without a day."""
        super().__init__(data, **more)
        self.parts = chosen_from(MOST_CHOICES + 1)
        self.fields["day"].help_text = ""
        if short:
            del self.fields["day"]
        if len(self.parts) <= MOST_CHOICES:
            choices = [("", _now("Choose a part")), *self.parts]
            typed = self.data.get("part", "") if self.is_bound else ""
            if typed and typed not in {number for number, _words in self.parts}:
                choices.append((typed, typed))
            self.fields["part"].widget = QuickSelect(choices=choices, attrs={"required": True})
        else:
            self.fields["part"].widget.attrs |= {"list": "wanted-parts", "autocomplete": "off", "spellcheck": "false"}

    @property
    def offered(self) -> list[tuple[str, str]]:
        """What is offered under a field in which a number is typed."""
        return self.parts[:MOST_CHOICES] if len(self.parts) > MOST_CHOICES else []

    def clean_part(self) -> Part:
        """The part of that number; another is said by those that look like it."""
        number = self.cleaned_data["part"]
        part = found(number)
        if part is None:
            alike = near(number)
            said = {"number": number, "near": ", ".join(alike)}
            text = (
                _now("There is no part %(number)s. Did you mean %(near)s?")
                if alike
                else _now("There is no part %(number)s. A lead writes it down under Parts.")
            )
            raise forms.ValidationError(text % said)
        return part

    def clean(self) -> dict[str, Any]:
        """With a token of its own, where the page had lost it."""
        data = super().clean() or {}
        self.say_lost_token()
        return data

    def facts(self) -> dict[str, Any]:
        """What the service is told besides the part."""
        data = self.cleaned_data
        return {"count": data["count"], "day": data.get("day"), "token": data["token"]}


class ChangeWantedForm(Told):
    """How many of which revision for which day. `seen`: how it stood when the page was opened."""

    count = _count()
    revision = forms.ModelChoiceField(
        label=_("Revision"),
        queryset=PartRevision.objects.none(),
        required=False,
        empty_label=_("the newest"),
        help_text=_("Says whose tool set is shown. Every pull of the part counts, whichever revision its mold is for."),
    )
    day = _day()
    seen = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, row: Wanted, data: Any = None, *, seen: str) -> None:
        told: dict[str, int | date | str | None] = {
            "count": row.count, "revision": row.revision_id, "day": row.day, "seen": seen
        }  # fmt: skip
        super().__init__(data, initial=told)
        field = self.fields["revision"]
        field.queryset = row.part.revisions.exclude(revision="").newest_first()
        field.label_from_instance = lambda one: f"{one.revision} · {one.name}"
        if not field.queryset.exists():
            del self.fields["revision"]

    def facts(self) -> dict[str, Any]:
        """What the service is told."""
        data = self.cleaned_data
        return {"count": data["count"], "revision": data.get("revision"), "day": data["day"], "read": data["seen"]}
