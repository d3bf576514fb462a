"""Numbers in a person's own units, as they are typed: 3 1/2, 12,5 or, naming another unit, 90 mm."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from shared.units import NotRead, Read, Unit, read


class MeasureField(forms.CharField):
    """A number in a unit; its clean value says what was typed and what that is exactly, None where nothing was."""

    def __init__(self, *, unit: Unit, below_zero: bool = False, **more: Any) -> None:
        """`below_zero`: whether it may be; only a temperature may."""
        widget = forms.TextInput(attrs={"inputmode": "text" if unit.in_fractions or below_zero else "decimal"})
        super().__init__(widget=widget, **{"required": False, **more})
        self.unit, self.below_zero = unit, below_zero

    def clean(self, value: Any) -> Read | None:  # type: ignore[override]
        """The number that was typed; refused with what to write instead."""
        text = super().clean(value)
        if not text:
            return None
        try:
            said = read(text, self.unit)
        except NotRead as no:
            raise ValidationError(why_not(no, text[:40], self.unit)) from no
        if said.number < 0 and not self.below_zero:
            raise ValidationError(_("A number, 0 or more."))
        return said


def why_not(no: NotRead, text: str, unit: Unit) -> str:
    """What to write instead of a text that is no number."""
    if no.code == "two_ways":
        said = {"text": text, "smaller": no.ways[0], "larger": no.ways[1]}
        return _("“%(text)s” can be read in two ways: write %(smaller)s or %(larger)s.") % said
    if no.code == "other_unit" and not unit.symbol:
        return _("“%(text)s” has a unit of its own: write the number alone, its unit stands beside it.") % {
            "text": text
        }
    if no.code == "other_unit":
        return _("This is asked in %(unit)s, and “%(text)s” is something else.") % {"unit": unit.symbol, "text": text}
    like = "3 1/2" if unit.in_fractions else "12.5"
    return _("“%(text)s” is no number. Write it as %(like)s.") % {"text": text, "like": like}
