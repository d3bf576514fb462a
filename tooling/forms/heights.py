"""The heights of shelves in one line: 40, 90, 140, 190 cm, or evenly: from 40 to 190 cm."""

import re
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from shared.units import NotRead, Read, Unit, read, typed
from tooling.forms.measures import why_not

_EVENLY = re.compile(r"(?:from\s+)?(?P<low>\S.*?)\s+(?:to|up to)\s+(?P<high>\S.*)", re.IGNORECASE)
_UNIT = re.compile(r"[^\d.,/\s][^\d]*$")


@dataclass(frozen=True, slots=True)
class Heights:
    """Each height from the lowest, or only the lowest and the highest."""

    said: tuple[Read, ...]
    evenly: bool = False

    def of(self, shelves: int) -> list[Read]:
        """The height of each of so many shelves."""
        if self.evenly:
            low, high = self.said
            steps = max(1, shelves - 1)
            return [_between(low, high, Fraction(n, steps)) for n in range(shelves)]
        if len(self.said) != shelves:
            said = {"shelves": shelves, "heights": len(self.said)}
            raise ValidationError(_("%(shelves)d shelves want as many heights; here are %(heights)d.") % said)
        return list(self.said)


class HeightsField(forms.CharField):
    """Several heights in a unit; one that is named behind the last is that of all. None where nothing was typed."""

    def __init__(self, *, unit: Unit, **more: Any) -> None:
        """`unit`: what a bare number is in."""
        super().__init__(required=False, max_length=300, **more)
        self.unit = unit
        self.widget.attrs.update({"autocomplete": "off", "spellcheck": "false"})

    def clean(self, value: Any) -> Heights | None:  # type: ignore[override]
        """The heights from the lowest; refused with what to write instead."""
        text = super().clean(value)
        if not text:
            return None
        evenly = _EVENLY.fullmatch(text)
        pieces = [evenly["low"], evenly["high"]] if evenly else _pieces(text)
        unit = _UNIT.search(pieces[-1])
        behind = f" {unit.group()}" if unit else ""
        said = tuple(self._read(one if _UNIT.search(one) else one + behind) for one in pieces)
        if any(below.si >= above.si for below, above in pairwise(said)):
            raise ValidationError(_("Begin with the lowest shelf, each higher than the one before."))
        return Heights(said, bool(evenly))

    def _read(self, text: str) -> Read:
        try:
            said = read(text, self.unit)
        except NotRead as no:
            raise ValidationError(why_not(no, text[:40], self.unit)) from no
        if said.number < 0:
            raise ValidationError(_("A number, 0 or more."))
        return said


def _pieces(text: str) -> list[str]:
    """Parted by commas with a space behind them or semicolons; 40,90,140 has no other commas."""
    found = re.split(r"\s*;\s*|,\s+", text.strip().strip(",;"))
    return text.strip(" ,;").split(",") if len(found) == 1 and text.count(",") > 1 else found


def _between(low: Read, high: Read, part: Fraction) -> Read:
    """So far from the lowest to the highest, to a whole mm or a tenth of another unit of the highest."""
    unit = high.unit
    number = (low.si + (high.si - low.si) * part - unit.zero) / unit.scale
    digits = 1 if unit.symbol != unit.si else 0
    number = Fraction(round(number * 10**digits), 10**digits)
    return Read(typed(number * unit.scale + unit.zero, unit), number, unit)
