"""Numbers as a person wrote them, and in which unit."""

from decimal import Decimal

from django.db import models


def plain(number: Decimal) -> Decimal:
    """The same number without trailing zeros and without an exponent: 12.500000 is 12.5, 1E+2 is 100."""
    short = number.normalize() + 0  # + 0 makes -0 plain 0
    return short if short.as_tuple().exponent <= 0 else short.quantize(Decimal(1))


class NumberField(models.DecimalField):
    """A measured or agreed number. It comes back as it was written, whatever the column pads it with.

    SQLite keeps decimals as 8-byte floats, exact to 15 digits: no field may ask for more.
    """

    def __init__(self, *args, max_digits=15, decimal_places=6, **kwargs):
        super().__init__(*args, max_digits=max_digits, decimal_places=decimal_places, **kwargs)

    def from_db_value(self, value, expression, connection):
        return value if value is None else plain(value)


class Measured(models.Model):
    """A row with measures, stored in mm, kg and °C; what was typed in another unit is kept beside them.

    `as_typed` has, by the name of the column, the text and its unit: {"length_mm": ["3 1/2", "in"]}.
    """

    as_typed = models.JSONField(default=dict, blank=True, editable=False)

    class Meta:
        abstract = True


def at_least(least: int | Decimal, *names: str, model: str) -> list[models.CheckConstraint]:
    """One constraint a column, so that the message of a database names the column."""
    return [
        models.CheckConstraint(condition=models.Q(**{f"{name}__gte": least}), name=f"{model}_{name}_range")
        for name in names
    ]
