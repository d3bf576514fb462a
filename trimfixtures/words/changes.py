"""What was changed of a trim mask and its cuts, as it is kept with its tool, and as a person reads it."""

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from tooling.models.fields import NumberField
from tooling.words.about import Changed
from tooling.words.counting import capital
from tooling.words.sizes import size
from trimfixtures.models import Feature, Mask

# A change of a trim mask is kept under this and its column, one of a cut under CUT, of the order of cuts under ORDER.
PREFIX = "trim"
CUT, ORDER = f"{PREFIX} cut", f"{PREFIX} order"


def cut_as_kept(name: str, columns: Mapping[str, str]) -> str:
    """A cut, or some columns of it, as a change is stored: the same on every machine."""
    return json.dumps({"cut": name, **columns}, ensure_ascii=False)


def changed(change: Any, system: str) -> Changed:
    """A change of a trim mask, its cuts or their order, numbers in the reader's units."""
    if change.field == CUT:
        return _cut_changed(change, system)
    if change.field == ORDER:
        return Changed(change.at, change.who, _("Order of the cuts"), change.before, change.after, False)
    field = Mask._meta.get_field(change.field.removeprefix(PREFIX).strip())
    before, after = (_value(field, text, system) for text in (change.before, change.after))
    return Changed(change.at, change.who, _named(field), before, after, False)


def _cut_changed(change: Any, system: str) -> Changed:
    was, now = (json.loads(text) if text else {} for text in (change.before, change.after))
    name = (now or was).get("cut", "")
    if was and now:
        what, before, after = _("Cut “%(cut)s”"), _facts(was, system), _facts(now, system)
        return Changed(change.at, change.who, what % {"cut": name}, before, after, False)
    text = _("Cut “%(cut)s” added: %(facts)s") if now else _("Cut “%(cut)s” taken out: %(facts)s")
    said = text % {"cut": name, "facts": _facts(now or was, system)}
    return Changed(change.at, change.who, said, "", "", True)


def _facts(kept: Mapping[str, str], system: str) -> str:
    fields = ((Feature._meta.get_field(name), text) for name, text in kept.items() if name != "cut")
    return ", ".join(f"{_named(field)}: {_value(field, text, system) or _('not said')}" for field, text in fields)


def _named(field: Any) -> str:
    return capital(str(field.verbose_name))


def _value(field: Any, text: str, system: str) -> str:
    if text and isinstance(field, NumberField):
        return size(Decimal(text), system)
    return str(dict(field.choices or ()).get(text, text))
