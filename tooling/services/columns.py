"""Columns as they are set by a service: sizes as somebody typed them, or as plain numbers, in mm."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models

from shared.units import Read
from tooling.models.fields import Measured, NumberField
from tooling.services.kept import in_words
from tooling.services.measures import keep


def put(row: models.Model, columns: Mapping[str, Any]) -> None:
    """Sets columns of a row, unsaved. What a person typed in another unit is kept beside the number."""
    for name, value in columns.items():
        number = isinstance(row._meta.get_field(name), NumberField)
        if isinstance(row, Measured) and number and (value is None or isinstance(value, Read)):
            keep(row, name, value)
        else:
            setattr(row, name, value)
            if isinstance(row, Measured) and number:
                row.as_typed = {one: said for one, said in row.as_typed.items() if one != name}


def stand(row: models.Model, names: Mapping[str, Any]) -> dict[str, str]:
    """These columns as a record of changes keeps them."""
    return {name: in_words(getattr(row, name)) for name in names}


def differing(before: Mapping[str, str], after: Mapping[str, str]) -> tuple[dict[str, str], dict[str, str]]:
    """What stood and what stands now, of the columns that changed alone."""
    names = [name for name, was in before.items() if was != after[name]]
    return {name: before[name] for name in names}, {name: after[name] for name in names}


def refuse(wrong: Mapping[str, str]) -> None:
    """Raises what is wrong with columns, by column; nothing where nothing is."""
    if wrong:
        raise ValidationError(dict(wrong))


def values_of(row: models.Model) -> dict[str, Any]:
    """Every column of a row by its name, those that lead to another row with that row."""
    return {field.name: getattr(row, field.name) for field in row._meta.concrete_fields if not field.primary_key}
