"""A step of the making: which it is at now, and what was done."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.forms.deeds.base import NOT_SAID, chips, words
from tooling.forms.deeds.in_use import IntoUseForm
from tooling.forms.deeds.pictures import WithPictures
from tooling.forms.deeds.readings import LONGEST_WORD, NumberField
from tooling.forms.deeds.surface import LONGEST_LOT
from tooling.forms.deeds.uses import count_field
from tooling.services.making_steps import LONGEST_NAME
from tooling.words.terms import WORKS

# What is offered under the fields; anything else may be typed.
UNITS = ("kg", "g", "l", "ml", "m²", "m")
GRITS = ("P80", "P120", "P180", "P240", "P320", "P400", "P600", "P800", "P1000")


def work_fields() -> dict[str, forms.Field]:
    """What was done and what it took, all of it to be left."""
    count = count_field(_("How many skins or coats"))
    count.initial = None
    grit = words(_("Grit, where it was sanded"), longest=LONGEST_WORD)
    grit.widget.attrs["list"] = "grits"
    grit.help_text = _("Those offered are common practice, no source.")
    unit = words(_("Unit"), longest=20)
    unit.widget.attrs["list"] = "units"
    material = words(_("Material"), longest=LONGEST_WORD)
    material.widget.attrs["list"] = "materials"
    return {
        "work": chips(_("What was done"), [NOT_SAID, *WORKS.items()]),
        "count": count,
        "grit": grit,
        "material": material,
        "value": NumberField(label=_("How much of it")),
        "unit": unit,
        "minutes": NumberField(label=_("Minutes of work")),
        "lot": words(_("Lot, or the number of the tin"), longest=LONGEST_LOT),
    }


class MakingForm(WithPictures, IntoUseForm):
    """What was done. again: it is in use, and somebody has to say that it is not any more."""

    again = forms.BooleanField(
        label=_("It is in the making again: nobody uses it until it is accepted"), required=False
    )

    def __init__(self, *args: Any, again: bool = False, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields |= work_fields()
        if not again:
            del self.fields["again"]

    @property
    def worked(self) -> bool:
        """Whether something of the work was said, so that its fold is open when it is shown again."""
        return self.is_bound and any(self[name].data or self[name].errors for name in work_fields())

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if "again" in self.fields and not data.get("again") and not self.amiss and not self.was_sent:
            self.add_error("again", _now("It is in use. Say that it is taken back into the making."))
        return data

    def facts(self) -> dict[str, Any]:
        """What the entry says besides its step."""
        return {name: self.cleaned_data[name] for name in work_fields()}


class StepForm(MakingForm):
    """The step that it is at now: the next, by its button; another of the list; or words of one's own.

    elsewhere: the names of steps that are written as another entry, in capitals.
    """

    PRESSED = "step"

    step = forms.CharField(required=False, max_length=LONGEST_NAME)
    other = chips(_("Another step"), [])
    own = words(_("Or in your own words"), longest=LONGEST_NAME)

    def __init__(self, *args: Any, others: Sequence[str], elsewhere: Sequence[str], **more: Any) -> None:
        super().__init__(*args, **more)
        self.elsewhere = {name.upper() for name in elsewhere}
        self.fields["other"].choices = [(name, name) for name in others]

    @property
    def is_other(self) -> bool:
        """Whether the fold of other steps is open when it is shown again."""
        return (self.is_bound and not self["step"].data) or not self.fields["other"].choices

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        said = data.get("step") or data.get("own") or data.get("other") or ""
        data["said"] = " ".join(said.split())
        if self.amiss or self.errors.keys() & {"step", "own", "other"}:
            return data
        if not data["said"]:
            self.add_error("own", _now("Which step is it at now? Tap one, or write it."))
        elif data["said"].upper() in self.elsewhere and not self.was_sent:
            text = _now("“%(step)s” is written as a deed of its own: tap it above.")
            self.add_error("own", text % {"step": data["said"]})
        return data


class WorkAtStepForm(MakingForm):
    """Work at the step that it is at."""

    step = forms.CharField(required=False, max_length=LONGEST_NAME, widget=forms.HiddenInput)

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        data["said"] = data.get("step", "")
        said = [*(data.get(name) for name in work_fields()), data.get("note"), data.get("pictures")]
        if not any(said) and not self.errors and not self.amiss:
            self.add_error("work", _now("Say what was done, in a word or with a picture."))
        return data
