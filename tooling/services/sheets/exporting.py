"""The whole shop as sheets, read as it was at one moment and written row by row."""

from collections.abc import Callable
from pathlib import Path

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.snapshot import one_moment
from tooling.models import Shop
from tooling.services.sheets.cells import Frame
from tooling.services.sheets.registry import sheets
from tooling.services.sheets.table import Sheet
from tooling.services.sheets.writing import Target, target

Step = Callable[[int, str], None]
_OFTEN = 1_000


def _say_nothing(rows: int, sheet: str) -> None:
    """Nobody wants to know."""


def export_shop(path: Path, *, step: Step = _say_nothing) -> dict[str, int]:
    """Writes every sheet; returns how many rows each has. Raises Refused where the path cannot be written to.

    `step` is called now and then with how many rows of which sheet are written, and may raise to leave it at that.
    """
    try:
        with target(path) as into, one_moment():
            return {sheet.name: _export(sheet, into, step) for sheet in sheets()}
    except OSError as bad:
        raise Refused(_("%(path)s cannot be written: %(why)s.") % {"path": path, "why": bad.strerror}) from bad


def _export(sheet: Sheet, into: Target, step: Step) -> int:
    frame, count = Frame(Shop.current().zone), 0
    columns = sheet.columns
    with into(sheet.name, [column.name for column in columns]) as put:
        for row in sheet.give():
            if count % _OFTEN == 0:
                step(count, sheet.name)
            put([column.cell(row.get(column.name), frame) for column in columns])
            count += 1
    return count
