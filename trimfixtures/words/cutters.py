"""A cutter or guide bushing in words: how worn it measures, how far it has cut, and what was changed of it."""

from datetime import date
from decimal import Decimal
from typing import Any

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.models.fields import NumberField
from tooling.words.about import Changed
from tooling.words.counting import capital
from tooling.words.measures import measure, si_of
from tooling.words.sizes import closely, given, size, worked
from tooling.words.when import day
from trimfixtures.models import Cutter, CutterKind, CutterState

# What a button says of one that stands as the key says, the likeliest first; "fresh" is a new one under the same code.
NEXT = {
    CutterState.HERE: (("worn", gettext_lazy("Worn")), ("gone", gettext_lazy("Gone"))),
    CutterState.WORN: (("fresh", gettext_lazy("A fresh one is in")), ("gone", gettext_lazy("Gone"))),
    CutterState.GONE: (("fresh", gettext_lazy("A fresh one is in")), ("here", gettext_lazy("Here again"))),
}
# Said as well on the page of one alone.
BESIDE = {CutterState.WORN: (("here", gettext_lazy("Not worn after all")),)}
SECTIONS = (
    (CutterKind.CUTTER, gettext_lazy("Cutters")),
    (CutterKind.BUSHING, gettext_lazy("Guide bushings")),
)


def sizes(one: Cutter, wear: Decimal | None, system: str) -> str:
    """12 mm, measures 11.92 mm: 0.08 mm under."""
    meant, measured = given(one, "nominal_mm", system), given(one, "measured_mm", system)
    if not measured:
        return _("%(meant)s, never measured") % {"meant": meant} if meant else _("no size is written down")
    if wear is None:
        return _("measures %(measured)s") % {"measured": measured}
    said = {"meant": meant, "measured": measured, "off": off(wear, system)}
    return _("%(meant)s, measures %(measured)s: %(off)s") % said


def off(wear: Decimal, system: str) -> str:
    """0.08 mm under."""
    if not wear:
        return _("as it is meant to be")
    words = _("%(far)s under") if wear < 0 else _("%(far)s over")
    return words % {"far": closely(abs(wear), system)}


def cut_so_far(metres: Decimal, parts: int, fresh_on: date | None, system: str, today: date) -> str:
    """41 m in 12 parts since 3 May."""
    since = _(" since %(day)s") % {"day": day(fresh_on, today)} if fresh_on is not None else ""
    if not parts:
        return _("nothing cut%(since)s") % {"since": since}
    of = ngettext("%(n)d part", "%(n)d parts", parts) % {"n": parts}
    if not metres:
        return f"{of}{since}"  # a drill goes no way
    return _("%(far)s in %(parts)s%(since)s") % {"far": far(metres, system), "parts": of, "since": since}


def far(metres: Decimal, system: str) -> str:
    """41 m: nobody asks for the centimetres of what was cut in a season."""
    return str(measure(metres.quantize(Decimal(1)) if metres >= 10 else round(metres, 1), "m", system))


def now_said(one: Cutter, done: str) -> str:
    """C8 is said to be gone."""
    if done == "fresh":
        return _("A fresh %(code)s is in: metres are counted from today.") % {"code": one.code}
    return _("%(code)s is said to be %(state)s.") % {"code": one.code, "state": one.get_state_display()}


def changed(change: Any, system: str) -> Changed:
    """A change as it is read."""
    if not change.field:
        return Changed(change.at, change.who, _("Written down"), "", change.after, True)
    field = Cutter._meta.get_field(change.field)
    label = str(field.verbose_name)
    before, after = (_value(field, text, system) for text in (change.before, change.after))
    return Changed(change.at, change.who, capital(label), before, after, False)


def _value(field: Any, text: str, system: str) -> str:
    if not text:
        return ""
    if isinstance(field, NumberField):
        si = si_of(field.name)
        made = closely if field.name == "measured_mm" else worked
        return size(Decimal(text), system, made=made) if si == "mm" else far(Decimal(text), system)
    if field.name == "fresh_on":
        return in_format(date.fromisoformat(text), "j F Y")
    return str(dict(field.flatchoices).get(text, text))
