"""The column `as_typed`: what stood in the screen of somebody who types in other units, `length_mm: 3 1/2 in`."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.units import METRIC, NotRead, read, stored
from tooling.services.sheets.cells import Frame, Kind, shown
from tooling.services.sheets.table import Column
from tooling.words.measures import unit_for

NAME = "as_typed"
Typed = Mapping[str, list[str]]  # by column, as a row keeps it: the text and its unit


def column(measures: Iterable[str]) -> Column:
    """The column, for a sheet that has these measures. It decides no number: rows that differ in it are the same."""
    names = frozenset(measures)
    return Column(NAME, Kind(lambda cell, frame: _read(cell, names), _write), empty={}, beside=True)


def still(row: Mapping[str, Any]) -> dict[str, list[str]]:
    """What was typed, where the number beside it is still what was meant; nobody need change both."""
    return {name: said for name, said in row[NAME].items() if row[name] == stored(_meant(name, *said).si)}


def _read(cell: Any, names: frozenset[str]) -> dict[str, list[str]]:
    result = {}
    for piece in filter(None, (one.strip() for one in shown(cell).split(";"))):
        name, __, text = piece.partition(":")
        name = name.strip().lower()
        try:
            meant = _meant(name, text) if name in names else None
        except NotRead:
            meant = None
        if meant is None:
            message = _("Write “%(piece)s” as a column of this sheet and what was typed: %(name)s: 3 1/2 in.")
            raise Refused(message % {"piece": piece[:40], "name": min(names)})
        if meant.unit.symbol != meant.unit.si:
            result[name] = [meant.text, meant.unit.symbol]
    return result


def _meant(name: str, text: str, unit: str = "") -> Any:
    return read(f"{text} {unit}", unit_for(name, METRIC))


def _write(value: Typed, frame: Frame) -> str:
    return "; ".join(f"{name}: {text} {unit}" for name, (text, unit) in sorted(value.items()))
