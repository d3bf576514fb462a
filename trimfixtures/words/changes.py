"""What was changed of a trim mask and its cuts, as it is kept with its tool, and as a person reads it."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.models.fields import NumberField
from tooling.words.about import Changed
from tooling.words.row_changes import RowWords, named
from tooling.words.sizes import size
from trimfixtures.models import Feature, Mask

# A change of a trim mask is kept under this and its column, one of a cut under CUT, of the order of cuts under ORDER.
PREFIX = "trim"
CUT, ORDER = f"{PREFIX} cut", f"{PREFIX} order"


def changed(change: Any, system: str) -> Changed:
    """A change of a trim mask, its cuts or their order, numbers in the reader's units."""
    if change.field == CUT:
        return _OF_CUT.said(change, system)
    if change.field == ORDER:
        return Changed(change.at, change.who, _("Order of the cuts"), change.before, change.after, False)
    field = Mask._meta.get_field(change.field.removeprefix(PREFIX).strip())
    before, after = (_value(field, text, system) for text in (change.before, change.after))
    return Changed(change.at, change.who, named(field), before, after, False)


def _value(field: Any, text: str, system: str) -> str:
    if text and isinstance(field, NumberField):
        return size(Decimal(text), system)
    return str(dict(field.choices or ()).get(text, text))


_OF_CUT = RowWords(
    "cut",
    Feature,
    _value,
    gettext_lazy("Cut “%(cut)s”"),
    gettext_lazy("Cut “%(cut)s” added: %(facts)s"),
    gettext_lazy("Cut “%(cut)s” taken out: %(facts)s"),
)
cut_as_kept = _OF_CUT.as_kept
