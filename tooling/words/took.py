"""What it took to make a tool, in words: its hours, its material, and from when to when."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.units import UNITS
from tooling.models.fields import plain
from tooling.words.measures import measure
from tooling.words.terms import WORKS, term
from tooling.words.when import dated, long_day

# Works whose coats or skins are counted.
_IN_COATS = frozenset({"filler", "primer", "gel_coat"})


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a sum: what it is, what is said of it besides, and the number."""

    name: str
    about: str
    number: str


def worked(minutes: Decimal) -> str:
    """40 min, 6 h 30 min, 64 h: hours of work never become days."""
    hours, rest = divmod(round(minutes), 60)
    if not hours:
        return _("%(minutes)d min") % {"minutes": rest}
    said = {"hours": hours, "minutes": rest}
    return (_("%(hours)d h %(minutes)d min") if rest else _("%(hours)d h")) % said


def amount(number: Decimal, unit: str, units: str) -> str:
    """41 kg in the reader's units where they are known to the program, else in the unit that was written."""
    return str(measure(number, unit, units)) if unit in UNITS else f"{plain(number):f} {unit}".rstrip()


def in_short(took: Any, units: str) -> str:
    """64 h of work, 41 kg of tooling resin, 12 kg of filler"""
    return ", ".join(_said(took, units)) or _("nothing was written of what it took")


def so_far(took: Any, units: str) -> str:
    """The same of one beside others: what is still in the making has not taken all of it yet."""
    said = in_short(took, units)
    return _("%(took)s so far, still in the making") % {"took": said} if took.goes_on and took.known else said


def _said(took: Any, units: str) -> Iterator[str]:
    by_hand = took.minutes - took.machining
    if by_hand:
        hours = {"hours": worked(by_hand)}
        yield (_("%(hours)s by hand") if took.machining else _("%(hours)s of work")) % hours
    if took.machining:
        yield _("%(hours)s of machining") % {"hours": worked(took.machining)}
    for one in took.materials:
        if one.amount:
            yield _("%(amount)s of %(material)s") % _of(one, units)


def _of(one: Any, units: str) -> dict[str, str]:
    return {"amount": amount(one.amount, one.unit, units), "material": one.material}


def from_to(took: Any, now: datetime, zone: tzinfo) -> str:
    """From 3 March to 12 May, when it was accepted."""
    if took.since is None:
        return ""
    said = {"since": long_day(took.since, now, zone)}
    if took.until is None:
        return _("Since %(since)s, and not accepted yet.") % said
    return _("From %(since)s to %(until)s, when it was accepted.") % {**said, "until": long_day(took.until, now, zone)}


def totals(took: Any) -> list[tuple[str, str]]:
    """Hours by hand and of machining each by itself: a machine runs while hands do something else."""
    by_hand = took.minutes - took.machining
    if not (by_hand and took.machining):
        return [(_("In all"), worked(took.minutes))]
    return [(_("By hand"), worked(by_hand)), (_("Machining"), worked(took.machining))]


def works(took: Any) -> list[Line]:
    """A line for each kind of work."""
    return [Line(_work(one.work), _coats(one), worked(one.minutes) if one.minutes else "–") for one in took.works]


def _work(work: str) -> str:
    return term(WORKS, work) if work else _("work without a name")


def _coats(one: Any) -> str:
    if not one.count:
        return ""
    if one.work in _IN_COATS:
        return ngettext("%(n)d coat", "%(n)d coats", one.count) % {"n": one.count}
    return ngettext("%(n)d skin", "%(n)d skins", one.count) % {"n": one.count} if one.work == "skin" else ""


def materials(took: Any, units: str) -> list[Line]:
    """A line for each material and unit."""
    return [
        Line(one.material, "", amount(one.amount, one.unit, units) if one.entries else _("how much was not said"))
        for one in took.materials
    ]


def notes(took: Any) -> list[str]:
    """What the sum leaves out, and why."""
    said = []
    if took.by_passes:
        said.append(_("The hours of machining are those that the milling passes took."))
    if took.left_out:
        said.append(_not_added(took))
    if took.added:
        said.append(
            _passes_without(took) + " " + _("%(time)s of entries are counted for that.") % {"time": worked(took.added)}
        )
    if took.later:
        said.append(_("%(time)s were written after it was accepted: they are not in it.") % _later(took))
    return said


def _not_added(took: Any) -> str:
    time = {"time": worked(took.left_out)}
    if took.unsaid and not took.added:
        text = _("Entries say %(time)s of machining, and nobody knows how much of that is its own: it is not added.")
        return f"{_passes_without(took)} {text % time}"
    return _("Entries say %(time)s of machining as well: they are not added, so that nothing counts twice.") % time


def _passes_without(took: Any) -> str:
    text = ngettext("One milling pass has no minutes.", "%(n)d milling passes have no minutes.", took.unsaid)
    return text % {"n": took.unsaid}


def _later(took: Any) -> dict[str, str]:
    return {"time": worked(took.later)}


def line_of(entry: Any, minutes: Decimal, given: tuple[Decimal, str] | None, units: str) -> str:
    """What one entry says of it: filler, 2 coats, 3 h, 4 kg of filler."""
    payload = entry.payload
    said = [_work(payload.get("work", ""))]
    if entry.count and (coats := _coats(_Counted(payload.get("work", ""), entry.count))):
        said.append(coats)
    if minutes:
        said.append(worked(minutes))
    if material := payload.get("material"):
        of = {"amount": amount(*given, units), "material": material} if given else {}
        said.append(_("%(amount)s of %(material)s") % of if of else str(material))
    return ", ".join(said)


@dataclass(frozen=True, slots=True)
class _Counted:
    work: str
    count: int


def titles(zone: tzinfo) -> list[str]:
    """The columns of the table."""
    return [
        f"{_('when')} [{zone}]", _("step"), _("work"), _("time [min]"), _("counted [min]"), _("coats or skins [count]"),
        _("material"), _("amount"), _("unit"), _("grit"), _("lot"), _("whose hands"), _("note"),
    ]  # fmt: skip


def cells(entry: Any, counted: Decimal, zone: tzinfo) -> list[str]:
    """An entry as a row of the table."""
    known = entry.payload
    by = entry.by.name if entry.by is not None else ""
    said = [str(known.get(name, "")) for name in ("material", "value", "unit", "grit", "lot")]
    return [
        dated(entry.at, zone), str(known.get("step", "")), _work(known.get("work", "")), str(known.get("minutes", "")),
        f"{plain(counted):f}", str(entry.count or ""), *said, by, str(known.get("note", "")),
    ]  # fmt: skip


def cells_of_pass(cut: Any) -> list[str]:
    """A milling pass as a row of the table: it has no day."""
    minutes = f"{plain(cut.minutes_taken):f}"
    step = ", ".join(filter(None, (str(cut.get_kind_display()), cut.name)))
    return ["", step, _work("machining"), minutes, minutes, *[""] * 7, cut.note]
