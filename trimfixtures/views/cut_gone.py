"""A cut that was just taken out, kept in the session of who did it: a note is too long for an address."""

from decimal import Decimal
from typing import Any

from django.http import HttpRequest

from tooling.models.fields import NumberField
from tooling.services.kept import in_words
from trimfixtures.models import Cutter, Feature, Mask

_KEPT = "cuts_gone"
# So many are kept at a time; whoever takes out more did not slip.
_MOST = 20
_SAID = [field for field in Feature._meta.concrete_fields if field.name not in ("mask", "token")]


def keep_gone(request: HttpRequest, cut: Feature) -> str:
    """The cut as it was; returns what the address calls it by."""
    row = {field.attname: _plain(getattr(cut, field.attname)) for field in _SAID}
    request.session[_KEPT] = [*request.session.get(_KEPT, []), [cut.mask_id, row]][-_MOST:]
    return str(cut.pk)


def cut_of(request: HttpRequest, name: str, mask: Mask) -> Feature | None:
    """The cut of that name, unsaved; None where none of this trim mask was taken out here, or it is back already."""
    kept = request.session.get(_KEPT, []) if name else []
    row = next((row for of, row in reversed(kept) if of == mask.pk and str(row.get("id")) == name), None)
    if row is None or row.keys() != {field.attname for field in _SAID}:  # a version that knew other columns wrote it
        return None
    cut = Feature(mask=mask, **{field.attname: _value(field, row[field.attname]) for field in _SAID})
    taken = {key for key in (cut.cutter_id, cut.bushing_id) if key is not None}
    is_whole = Cutter.objects.filter(pk__in=taken).count() == len(taken)
    return cut if is_whole and not mask.features.filter(pk=cut.pk).exists() else None


def _plain(value: Any) -> Any:
    return in_words(value) if isinstance(value, Decimal) else value


def _value(field: Any, value: Any) -> Any:
    return Decimal(value) if isinstance(field, NumberField) and value is not None else value
