"""A row that was just taken out, kept in the session of who did it: a note is too long for an address."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django.db import models
from django.http import HttpRequest

from tooling.models.fields import NumberField
from tooling.services.kept import in_words

# So many are kept at a time; whoever takes out more did not slip.
_MOST = 20


def keep(request: HttpRequest, under: str, owner: models.Model, row: models.Model, fields: Sequence[Any]) -> str:
    """The row as it was; returns what the address calls it by. `under`: the name in the session; `owner`: whose it was.

    `fields`: those of its columns that are kept, its key among them.
    """
    said = {field.attname: _plain(getattr(row, field.attname)) for field in fields}
    request.session[under] = [*request.session.get(under, []), [owner.pk, said]][-_MOST:]
    return str(row.pk)


def found(
    request: HttpRequest, under: str, owner: models.Model, name: str, fields: Sequence[Any]
) -> dict[str, Any] | None:
    """The columns of the row of that name; None where none of this owner was taken out here."""
    kept = request.session.get(under, []) if name else []
    said = next((said for of, said in reversed(kept) if of == owner.pk and str(said.get("id")) == name), None)
    if said is None or said.keys() != {field.attname for field in fields}:  # a version that knew other columns wrote it
        return None
    return {field.attname: _value(field, said[field.attname]) for field in fields}


def _plain(value: Any) -> Any:
    return in_words(value) if isinstance(value, Decimal) else value


def _value(field: Any, value: Any) -> Any:
    return Decimal(value) if isinstance(field, NumberField) and value is not None else value
