"""A pass that was just taken out, kept in the session of who did it: a note is too long for an address."""

from decimal import Decimal
from typing import Any

from django.http import HttpRequest

from tooling.models import MillingPass, Tool
from tooling.models.fields import NumberField
from tooling.services.kept import in_words

_KEPT = "passes_gone"
# So many are kept at a time; whoever takes out more did not slip.
_MOST = 20
_SAID = [field for field in MillingPass._meta.concrete_fields if field.name != "tool"]


def keep_gone(request: HttpRequest, one: MillingPass) -> str:
    """The pass as it was; returns what the address calls it by."""
    row = {field.name: _plain(getattr(one, field.name)) for field in _SAID}
    request.session[_KEPT] = [*request.session.get(_KEPT, []), [one.tool_id, row]][-_MOST:]
    return str(one.pk)


def pass_of(request: HttpRequest, name: str, tool: Tool) -> MillingPass | None:
    """The pass of that name, unsaved; None where none of this plug was taken out here, or it is back already."""
    kept = request.session.get(_KEPT, []) if name else []
    row = next((row for of, row in reversed(kept) if of == tool.pk and str(row.get("id")) == name), None)
    if row is None or row.keys() != {field.name for field in _SAID}:  # a version that knew other columns wrote it
        return None
    one = MillingPass(tool=tool, **{field.name: _value(field, row[field.name]) for field in _SAID})
    return None if MillingPass.objects.filter(pk=one.pk).exists() else one


def _plain(value: Any) -> Any:
    return in_words(value) if isinstance(value, Decimal) else value


def _value(field: Any, value: Any) -> Any:
    return Decimal(value) if isinstance(field, NumberField) and value is not None else value
