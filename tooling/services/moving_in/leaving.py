"""The whole shop to be taken along: as a workbook, or as a ZIP of tables."""

import shutil
import zipfile
from pathlib import Path
from typing import Any

from django.utils.translation import gettext as _

from shared import clock
from tooling.models import Shop
from tooling.services.jobs import Outcome, Progress
from tooling.services.sheets.exporting import export_shop

EXPORT = "export_shop"
WORKBOOK, TABLES = "xlsx", "csv"


def export(given: dict[str, Any], progress: Progress) -> Outcome:
    """Writes every sheet, as it was at one moment."""
    name = f"shop-{clock.now().astimezone(Shop.current().zone):%Y-%m-%d}"
    is_workbook = given["as"] == WORKBOOK
    path = progress.folder / (f"{name}.xlsx" if is_workbook else name)
    counts = export_shop(
        path, step=lambda rows, sheet: progress.say(rows, 0, _("Writing %(sheet)s") % {"sheet": sheet})
    )
    if not is_workbook:
        path = _packed(path, progress)
    return Outcome(_("All of the shop: %(rows)d rows in %(sheets)d sheets.") % _said(counts), path)


def _said(counts: dict[str, int]) -> dict[str, int]:
    return {"rows": sum(counts.values()), "sheets": len(counts)}


def _packed(folder: Path, progress: Progress) -> Path:
    """The tables of a folder in one file."""
    path = folder.with_name(f"{folder.name}.zip")
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for table in sorted(folder.glob("*.csv")):
            progress.say(0, 0, _("Packing %(sheet)s") % {"sheet": table.stem})
            packed.write(table, table.name)
    shutil.rmtree(folder)
    return path
