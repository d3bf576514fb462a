"""What was done to a plug by hand, in words: skins, filler, primer, grits and what its surface measured."""

from collections.abc import Iterator
from datetime import timedelta, tzinfo
from decimal import Decimal
from typing import Any, NamedTuple

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words import readings
from tooling.words.counting import capital
from tooling.words.terms import WORKS, term
from tooling.words.when import lasting, when


class Done(NamedTuple):
    """A line of what was done by hand: when, what, with what, by whom."""

    when: str
    what: str
    more: str
    who: str


def done_by_hand(of: Any, zone: tzinfo) -> list[Done]:
    """What was done by hand and what was measured, in order of work."""
    return [
        Done(
            when(one.at, of.at, zone),
            _what(one),
            ", ".join(_more(one)),
            one.by.name if one.by is not None else "",
        )
        for one in of.work
    ]


def _what(entry: Any) -> str:
    known = entry.payload
    if entry.kind == "reading":
        return capital(readings.what(known))
    work, step = known.get("work"), known.get("step", "")
    said = str(term(WORKS, work)) if work else ""
    if not said or said.casefold() == step.casefold():
        return capital(step or said or _("in the making"))
    return capital(f"{said} ({step})" if step else said)


def _more(entry: Any) -> Iterator[str]:
    known = entry.payload
    if entry.kind == "reading":
        yield readings.value(known)
        if known.get("standard"):
            yield known["standard"]
        if known.get("instrument"):
            yield known["instrument"]
    else:
        yield from _work(entry)
    if known.get("note"):
        yield known["note"]


def _work(entry: Any) -> Iterator[str]:
    known = entry.payload
    if entry.count:
        skins = known.get("work") in ("skin", "laminate")
        said = ngettext("%(n)d skin", "%(n)d skins", entry.count) if skins else ngettext(
            "%(n)d coat", "%(n)d coats", entry.count
        )  # fmt: skip
        yield said % {"n": entry.count}
    if known.get("material"):
        yield known["material"]
    if known.get("value"):
        yield f"{known['value']} {known.get('unit', '')}".strip()
    if known.get("grit"):
        yield _("grit %(grit)s") % {"grit": known["grit"]}
    if known.get("minutes"):
        yield lasting(timedelta(minutes=float(Decimal(known["minutes"]))))
    if known.get("lot"):
        yield _("lot %(lot)s") % {"lot": known["lot"]}
