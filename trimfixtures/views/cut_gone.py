"""A cut that was just taken out of a trim mask, to be put back."""

from django.http import HttpRequest

from tooling.views import row_gone
from trimfixtures.models import Cutter, Feature, Mask

_KEPT = "cuts_gone"
_SAID = [field for field in Feature._meta.concrete_fields if field.name not in ("mask", "token")]


def keep_gone(request: HttpRequest, cut: Feature) -> str:
    """The cut as it was; returns what the address calls it by."""
    return row_gone.keep(request, _KEPT, cut.mask, cut, _SAID)


def cut_of(request: HttpRequest, name: str, mask: Mask) -> Feature | None:
    """The cut of that name, unsaved; None where none of this trim mask was taken out here, or it is back already."""
    columns = row_gone.found(request, _KEPT, mask, name, _SAID)
    if columns is None:
        return None
    cut = Feature(mask=mask, **columns)
    taken = {key for key in (cut.cutter_id, cut.bushing_id) if key is not None}
    is_whole = Cutter.objects.filter(pk__in=taken).count() == len(taken)
    return cut if is_whole and not mask.features.filter(pk=cut.pk).exists() else None
