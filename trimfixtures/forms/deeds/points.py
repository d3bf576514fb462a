"""What was found at the points of a check as one text, in the units of whoever reads it."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from shared.units import METRIC, Unit, stored, typed, unit_of
from tooling.forms.measures import MeasureField
from trimfixtures.calc.points import IN, OUT, Point, read_points, write_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.services.mask_rules import points_in
from trimfixtures.words.refusals import refused


class PointsField(forms.CharField):
    """As the sheet of the history has it, but for the units. A number that was left alone stays as it was written."""

    def __init__(self, *, stood: str, units: str, **more: Any) -> None:
        super().__init__(**more)
        self.units, self.unit, self.stood = units, unit_of("mm", units), points_in(stood)

    def clean(self, value: Any) -> str:
        text = super().clean(value)
        try:
            return write_points(read_points(text if self.units == METRIC else self._in_mm(text)))
        except Refusal as refusal:
            raise ValidationError(refused(refusal, self.units)) from refusal

    def in_units(self, text: str) -> str:
        """What is written down, in the reader's units; a text that is no points as it stands."""
        points = points_in(text)
        if self.units == METRIC or not points:
            return text
        return "; ".join(_said(one, self.unit) for one in points)

    def _in_mm(self, text: str) -> str:
        return "; ".join(self._point(one) for one in text.split(";") if one.strip())

    def _point(self, text: str) -> str:
        place, colon, found = text.partition(":")
        name, at, along = place.partition("@")
        words = f"{name.strip()} @ {self._number(along)}" if at else name.strip()
        if not colon or found.strip().casefold() in (IN, OUT):
            return f"{words}: {found.strip()}" if colon else words
        return f"{words}: {self._number(found)}"

    def _number(self, text: str) -> str:
        text = text.strip().removeprefix("+")
        left = (one for one in _numbers(self.stood) if typed(one, self.unit) == text)
        if (as_it_stood := next(left, None)) is not None:
            return f"{as_it_stood:f}"
        said = MeasureField(unit=self.unit, below_zero=True).clean(text)
        return f"{stored(said.si):f}" if said is not None else ""


def _numbers(points: Sequence[Point]) -> Iterator[Decimal]:
    for one in points:
        yield from (Decimal(str(number)) for number in (one.along, one.deviation) if number is not None)


def _said(point: Point, unit: Unit) -> str:
    words = point.name
    if point.along is not None:
        words += f" @ {typed(Decimal(str(point.along)), unit)}"
    if point.deviation is None:
        return words if point.within is None else f"{words}: {IN if point.within else OUT}"
    return f"{words}: {'+' * (point.deviation > 0)}{typed(Decimal(str(point.deviation)), unit)}"
