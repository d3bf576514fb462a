"""What is stored comes back equal to the last digit, whichever kind of field it is in."""

import datetime
import json
from decimal import Decimal
from uuid import UUID

import pytest
from django.db import models

from tooling.models.fields import NumberField
from tooling.services.backup.values import line_of, reader, writer

UTC = datetime.UTC
EXACT = [
    (NumberField(), Decimal("12.5"), '"12.5"'),
    (NumberField(), Decimal("0.000001"), '"0.000001"'),
    (NumberField(), Decimal("100"), '"100"'),
    (models.DateTimeField(), datetime.datetime(2026, 3, 2, 12, 0, 0, 1, UTC), "1772452800000001"),
    (models.DateTimeField(), datetime.datetime(1950, 1, 1, tzinfo=UTC), "-631152000000000"),
    (models.DateField(), datetime.date(2026, 3, 2), '"2026-03-02"'),
    (models.UUIDField(), UUID(int=1), '"00000000-0000-0000-0000-000000000001"'),
    (models.BinaryField(), b"\x00\xff", '"AP8="'),
    (models.BooleanField(), True, "true"),
    (models.PositiveIntegerField(), 7, "7"),
    (models.TextField(), "Łódź\u2028\n", '"\\u0141\\u00f3d\\u017a\\u2028\\n"'),
    (models.JSONField(), {"b": [1, None], "a": "ü"}, '{"a":"\\u00fc","b":[1,null]}'),
]


@pytest.mark.parametrize(("field", "value", "text"), EXACT)
def test_a_value_is_written_in_one_way_and_read_as_it_was(field, value, text):
    line = line_of(writer(field)(value))
    assert line == text
    assert reader(field)(json.loads(line)) == value


@pytest.mark.parametrize(("field", "value", "text"), EXACT[:-1])
def test_nothing_stays_nothing_where_the_column_allows_it(field, value, text):
    field.null = True
    try:
        assert reader(field)(writer(field)(None)) is None
    finally:
        field.null = False
    with pytest.raises(ValueError, match="None"):
        reader(field)(None)


@pytest.mark.parametrize(
    ("field", "told"),
    [
        (models.PositiveIntegerField(), True),
        (models.PositiveIntegerField(), "7"),
        (models.BooleanField(), 1),
        (models.TextField(), 7),
        (NumberField(), 12.5),
        (NumberField(), "twelve"),
        (models.DateTimeField(), 10**30),
        (models.UUIDField(), "none"),
        (models.DateField(), "yesterday"),
    ],
)
def test_what_cannot_be_a_value_of_the_field_is_not_read(field, told):
    with pytest.raises((ValueError, ArithmeticError)):
        reader(field)(told)


def test_a_kind_of_field_that_is_not_known_is_said():
    with pytest.raises(TypeError, match="GenericIPAddressField"):
        writer(models.GenericIPAddressField())
