"""What was changed of a plug's record and its passes, as it is kept with the plug, and as a person reads it."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.models import MillingPass, PlugRecord
from tooling.models.fields import NumberField
from tooling.words import about
from tooling.words.about import Changed
from tooling.words.measures import measure, si_of
from tooling.words.row_changes import RowWords, named
from tooling.words.sizes import size

# A change of the record is kept under the first and its column, one of a pass or of their order under the second.
PLUG, PASS = "plug", "pass"
ALIKE, ROW, ORDER = f"{PLUG} alike", f"{PASS} row", f"{PASS} order"


def make_known() -> None:
    """Lets the changes of a tool be said."""
    about.register(PLUG, _plug_changed)
    about.register(PASS, _pass_changed)


def called(row: Any) -> str:
    """What a pass is called among the others: finishing, topsides."""
    kind = str(row.get_kind_display())
    return f"{kind}, {row.name}" if row.name else kind


def _plug_changed(change: Any, system: str) -> Changed:
    if change.field == ALIKE:
        said = _("Set up like %(plug)s") % {"plug": change.after}
        return Changed(change.at, change.who, said, "", "", True)
    field = PlugRecord._meta.get_field(change.field.removeprefix(PLUG).strip())
    if field.name == "picture":
        return Changed(change.at, change.who, _("Picture of how it sat"), "", "", True)
    before, after = (_value(field, text, system) for text in (change.before, change.after))
    return Changed(change.at, change.who, named(field), before, after, False)


def _pass_changed(change: Any, system: str) -> Changed:
    if change.field == ORDER:
        return Changed(change.at, change.who, _("Order of the passes"), change.before, change.after, False)
    return _OF_PASS.said(change, system)


def _value(field: Any, text: str, system: str) -> str:
    if text and isinstance(field, NumberField):
        si = si_of(field.name)
        if si == "mm":
            return size(Decimal(text), system)
        return str(measure(Decimal(text), si, system)).replace(" °", "°")
    if field.name == "both_ways":
        return {"yes": _("yes"), "no": _("no")}.get(text, text)
    return str(dict(field.choices or ()).get(text, text))


_OF_PASS = RowWords(
    "pass",
    MillingPass,
    _value,
    gettext_lazy("Pass “%(pass)s”"),
    gettext_lazy("Pass “%(pass)s” added: %(facts)s"),
    gettext_lazy("Pass “%(pass)s” taken out: %(facts)s"),
)
pass_as_kept = _OF_PASS.as_kept
