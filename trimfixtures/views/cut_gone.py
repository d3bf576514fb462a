"""A cut that was just taken out, kept in the address of the page that offers to put it back."""

from decimal import Decimal
from typing import Any

from django.core import signing
from django.core.signing import BadSignature

from tooling.models.fields import NumberField
from tooling.services.kept import in_words
from trimfixtures.models import Cutter, Feature, Mask

_SALT = "trimfixtures.cut-taken-out"
_SAID = [field for field in Feature._meta.concrete_fields if field.name != "mask"]


def packed(cut: Feature) -> str:
    """The cut as a text that nobody else can make."""
    row = {field.attname: _plain(getattr(cut, field.attname)) for field in _SAID}
    return signing.dumps([cut.mask_id, row], salt=_SALT, compress=True)


def cut_of(text: str, mask: Mask) -> Feature | None:
    """The cut, unsaved; None where the text is not ours, is of another trim mask, or the cut is back already."""
    if not text:
        return None
    try:
        of, row = signing.loads(text, salt=_SALT)
        cut = Feature(mask=mask, **{field.attname: _value(field, row[field.attname]) for field in _SAID})
    except (BadSignature, ValueError, KeyError):  # also of a version of the program that knew other columns
        return None
    taken = {key for key in (cut.cutter_id, cut.bushing_id) if key is not None}
    is_whole = Cutter.objects.filter(pk__in=taken).count() == len(taken)
    return cut if of == mask.pk and is_whole and not mask.features.filter(pk=cut.pk).exists() else None


def _plain(value: Any) -> Any:
    return in_words(value) if isinstance(value, Decimal) else value


def _value(field: Any, value: Any) -> Any:
    return Decimal(value) if isinstance(field, NumberField) and value is not None else value
