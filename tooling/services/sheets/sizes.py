"""Sizes in a cell: a number of millimetres, and never with a unit of its own beside it."""

import re
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.units import UNITS, NotRead, read, typed
from tooling.services.sheets import cells
from tooling.services.sheets.table import Column

_NUMBER = cells.number()
_HAS_WORDS = re.compile(r"[^\d\s.,/+\-−½¼¾⅐-⅞]")


def _read(cell: Any, frame: cells.Frame) -> Decimal:
    text = cells.shown(cell).strip()
    if isinstance(cell, str) and _HAS_WORDS.search(text):
        _refuse_unit(text)
    number: Decimal = _NUMBER.read(cell, frame)
    return number


def _refuse_unit(text: str) -> None:
    """Says what a cell with a unit is in mm; where it is none at all, that is said by whoever reads numbers."""
    try:
        meant = read(text, UNITS["mm"])
    except NotRead:
        return
    said = {"cell": text, "mm": typed(meant.si, UNITS["mm"])}
    raise Refused(
        _("“%(cell)s” has a unit of its own, and this column is in mm, so that no row mixes units: write %(mm)s.")
        % said
    )


_SIZE = cells.Kind(_read, _NUMBER.write)


def size(name: str) -> Column:
    """A column of sizes in mm."""
    return Column(name, _SIZE, one_unit=True)
