"""A measured number whose unit is asked beside it."""

from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now

from shared.units import MOST, Read, Unit, stored
from tooling.forms.measures import MeasureField
from tooling.models.fields import plain

_BARE = Unit("", "")
LONGEST_WORD, LONGEST_SPOT = 80, 60


class NumberField(MeasureField):
    """A number whose unit stands in a field of its own."""

    def __init__(self, **more: Any) -> None:
        super().__init__(unit=_BARE, **more)

    def clean(self, value: Any) -> Decimal | None:  # type: ignore[override]
        said: Read | None = super().clean(value)
        if said is None:
            return None
        if abs(said.number) > MOST:
            raise ValidationError(_now("That is more than the program can hold."))
        return plain(stored(said.number))
