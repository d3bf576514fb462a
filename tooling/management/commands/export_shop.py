"""Writes the shop out as sheets."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from shared.commands import ShopCommand
from tooling.services.sheets.exporting import export_shop


class Command(ShopCommand):
    help = (
        "Writes the whole shop into an .xlsx workbook, or into a folder as .csv. Imported into an empty shop it gives "
        "an equal one; people come along by name, without a way to sign in."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """PATH"""
        parser.add_argument("path", metavar="PATH", type=Path, help="a file ending in .xlsx, or a folder")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints how many rows each sheet has."""
        for sheet, count in export_shop(options["path"]).items():
            self.stdout.write(f"{sheet}: {count} rows")
