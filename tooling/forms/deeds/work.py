"""Work on the surface and what is seen of it: cleaning, build-up, a test, a coat wanted; and words."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import Read, Unit, stored
from tooling.forms.deeds.base import DeedForm, chips, words
from tooling.forms.measures import MeasureField
from tooling.models.fields import plain
from tooling.words.terms import AREAS, CLEANED_WITH, RELEASE_TESTS

# No filler of a mold stands more: beyond, it is a slip of typing.
HOTTEST_FILLER_C = 1000
# What each of them does to the surface, by the kind of entry that says so.
WRITTEN_AS = {"water": "clean", "soap": "clean", "solvent": "strip", "stripper": "strip", "compound": "polish"}


class WorkForm(DeedForm):
    """Work that says nothing but that it was done."""

    def facts(self) -> dict[str, Any]:
        """What the entry says of it."""
        return {}


class AreaForm(WorkForm):
    """How much of the surface it was."""

    area = chips(_("Where"), list(AREAS.items()), initial="whole")

    def facts(self) -> dict[str, Any]:
        return {"area": self.cleaned_data["area"] or "whole"}


class StandsField(MeasureField):
    """What a filler stands."""

    def __init__(self, *, unit: Unit, **more: Any) -> None:
        super().__init__(unit=unit, **more)
        self.label = _now("The filler stands, at most (%(unit)s)") % {"unit": unit.symbol}
        self.help_text = _("From its data sheet. The lowest limit decides how hot the tool may get.")

    def clean(self, value: Any) -> Read | None:  # type: ignore[override]
        said = super().clean(value)
        if said is not None and said.si > HOTTEST_FILLER_C:
            raise ValidationError(_now("No filler stands that: check the number."))
        return said


def stands(said: Read | None) -> dict[str, Any]:
    """What was typed, as a repair says it: the number and its unit."""
    return {} if said is None else {"stands": plain(stored(said.number)), "unit": said.unit.symbol}


class CleanForm(AreaForm):
    """With what: that decides what it was to the surface."""

    using = chips(
        _("With what?"),
        list(CLEANED_WITH.items()),
        required=True,
        error_messages={"required": _("Say with what: a solvent takes the coat off, water does not.")},
    )

    @property
    def kind(self) -> str:
        """The kind of entry that it is written as."""
        return WRITTEN_AS[self.cleaned_data["using"]]

    def facts(self) -> dict[str, Any]:
        using = {"using": self.cleaned_data["using"]}
        return using if self.kind == "clean" else {**using, **super().facts()}


class ReleaseCheckForm(WorkForm):
    """Which test, and whether it passed."""

    using = chips(_("Which test"), list(RELEASE_TESTS.items()), initial="tape")
    passed = chips(
        _("How did it go?"),
        [("yes", _("passed")), ("no", _("failed"))],
        required=True,
        error_messages={"required": _("Say whether it passed.")},
    )

    def facts(self) -> dict[str, Any]:
        return {"using": self.cleaned_data["using"], "passed": self.cleaned_data["passed"] == "yes"}


class WaxWantedForm(WorkForm):
    """Why a coat is wanted before the count is up."""

    reason = words(_("Why"), longest=200)

    def facts(self) -> dict[str, Any]:
        return {"reason": self.cleaned_data["reason"]}


class NoteForm(WorkForm):
    """Words for the history."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        note: forms.Field = self.fields["note"]
        note.required = True
        note.error_messages["required"] = _now("Write the note first.")
