"""What the sheet of a rack says on paper."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.units import unit_of
from tooling.words import lines
from tooling.words.counting import capital
from tooling.words.measures import measure, si_of
from tooling.words.on_tags import limit
from tooling.words.places import kind_of, lies
from tooling.words.racks import beside
from tooling.words.when import on_paper

_SIZES = ("length_mm", "width_mm", "height_mm")


@dataclass(frozen=True, slots=True)
class OnShelf:
    """A tool on the drawing: its code, what stands beside it, and how it is drawn."""

    one: Any
    code: str
    words: str


@dataclass(frozen=True, slots=True)
class OnPaper:
    """A shelf or a bay on the drawing: what it is called, what lies on it, what it carries."""

    name: str
    about: str
    tools: list[OnShelf]
    carries: str
    bays: "list[OnPaper]"


@dataclass(frozen=True, slots=True)
class Listed:
    """A tool in the list: where it is on the rack, its code and name, how it is lifted, its mass and sizes, how it
    stands there.
    """

    place: str
    code: str
    name: str
    lift: str
    mass: str
    sizes: str
    says: str


@dataclass(frozen=True, slots=True)
class Reader:
    """For whom it is said: units, and the day in the shop."""

    units: str
    zone: tzinfo
    today: date


def shelf(of: Any, reader: Reader) -> OnPaper:
    """A shelf as it is said on paper."""
    about = [of.place.code, kind_of(of.place)]
    if of.place.height_mm is not None and of.place.kind != "room":
        about.append(_size(of.place, "height_mm", reader.units))
    tools = [
        OnShelf(one, one.tool.code, beside(one, of.place, reader.units, lies(one.summary, reader.today)))
        for one in of.drawn
    ]
    bays = [shelf(bay, reader) for bay in of.bays]
    return OnPaper(of.place.name, " · ".join(filter(None, about)), tools, carries(of, reader.units), bays)


def carries(of: Any, units: str) -> str:
    """3 tools on it, 114.6 kg of at most 120 kg. 1 tool without a mass is not counted."""
    load, most = of.load, of.place.max_load_kg
    said = [ngettext("%(n)d tool on it", "%(n)d tools on it", load.count) % {"n": load.count}] if load.count else []
    if load.kg:
        now = str(measure(load.kg, "kg", units))
        said.append(_("%(now)s in all") % {"now": now} if load.below_kg else now)
    elif not load.count:
        said.append(_("nothing on it"))
    if most is not None:
        most_words = _("at most %(most)s") % {"most": limit(most, "kg", units)}
        said = (
            [*said[:-1], _("%(now)s of %(most)s") % {"now": said[-1], "most": most_words}]
            if load.kg
            else [*said, most_words]
        )
    text = capital(f"{', '.join(said)}{': ' + _('too much') if of.overloaded else ''}.")
    if load.unweighed:
        without = ngettext(
            "%(n)d tool without a mass is not counted.", "%(n)d tools without a mass are not counted.", load.unweighed
        )
        text += " " + without % {"n": load.unweighed}
    return text


def listed(racks: Iterable[Any], reader: Reader) -> list[Listed]:
    """Every tool of the drawing, shelf by shelf."""
    return [
        _line(one, place.place, reader)
        for rack in racks
        for of in rack.shelves
        for place in (of, *of.bays)
        for one in place.drawn
    ]


def _line(one: Any, place: Any, reader: Reader) -> Listed:
    tool, summary = one.tool, one.summary
    if one.how == "gone":
        says = _("not here: %(where)s") % {"where": lies(summary, reader.today)}
    elif summary.seen_at is None:
        says = _("not seen yet: its home is here")
    else:
        says = _("seen %(when)s") % {"when": on_paper(summary.seen_at, reader.zone)}
    if one.how != "gone" and summary.home_id != place.pk:
        home = _("home: %(place)s") % {"place": summary.home.name} if summary.home else _("has no home")
        says = f"{says}; {home}"
    mass = _size(tool, "mass_kg", reader.units) if tool.mass_kg is not None else ""
    lifted = lines.lift(tool) or str(lines.NO_LIFT)
    return Listed(place.code, tool.code, tool.name, lifted, mass, _sizes(tool, reader.units), says)


def _sizes(tool: Any, units: str) -> str:
    """5350 × 720 × 310 mm"""
    said = [_size(tool, name, units) for name in _SIZES if getattr(tool, name) is not None]
    unit = f" {unit_of('mm', units).symbol}"
    if len(said) < len(_SIZES) or not all(one.endswith(unit) for one in said):
        return " × ".join(said)
    return " × ".join(one.removesuffix(unit) for one in said) + unit


def _size(row: Any, column: str, units: str) -> str:
    return str(measure(getattr(row, column), si_of(column), units, row.as_typed.get(column)))


def as_of(at: datetime, zone: tzinfo) -> str:
    """The moment that the sheet is of."""
    return on_paper(at, zone)
