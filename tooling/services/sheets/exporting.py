"""The whole shop as sheets, read as it was at one moment and written row by row."""

from pathlib import Path

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.snapshot import one_moment
from tooling.models import Shop
from tooling.services.sheets.cells import Frame
from tooling.services.sheets.registry import sheets
from tooling.services.sheets.table import Sheet
from tooling.services.sheets.writing import Target, target


def export_shop(path: Path) -> dict[str, int]:
    """Writes every sheet; returns how many rows each has. Raises Refused where the path cannot be written to."""
    try:
        with target(path) as into, one_moment():
            return {sheet.name: _export(sheet, into) for sheet in sheets()}
    except OSError as bad:
        raise Refused(_("%(path)s cannot be written: %(why)s.") % {"path": path, "why": bad.strerror}) from bad


def _export(sheet: Sheet, into: Target) -> int:
    frame, count = Frame(Shop.current().zone), 0
    columns = sheet.columns
    with into(sheet.name, [column.name for column in columns]) as put:
        for row in sheet.give():
            put([column.cell(row.get(column.name), frame) for column in columns])
            count += 1
    return count
