"""Writes one entry into a tool's history."""

from argparse import ArgumentParser
from typing import Any

from shared.commands import ShopCommand
from shared.errors import Refused
from tooling.models import Shop
from tooling.services.sheets.typed import log_entry


class Command(ShopCommand):
    help = (
        "Writes one entry into a tool's history, with the words and columns of the sheet history: "
        "log_entry SKEGBOX moved --set place=B-2 --set home=no. Each call writes another one."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """TOOL ENTRY --at ISO --by NAME --set column=value"""
        parser.add_argument("tool", metavar="TOOL", help="its code, or an older one")
        parser.add_argument("entry", metavar="ENTRY", help="what happened, such as accepted, moved or installed")
        parser.add_argument("--at", default="", help="when, ISO 8601; without a zone in the shop's (default: now)")
        parser.add_argument("--by", default="", metavar="NAME", help="whose hands it was")
        parser.add_argument(
            "--set", action="append", default=[], metavar="COLUMN=VALUE", help="what the entry says besides; repeat it"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints the entry's number within its tool, and when it happened."""
        said = _cells(options["set"])
        made = log_entry(options["tool"], options["entry"], at=options["at"], by=options["by"], cells=said)
        at = made.at.astimezone(Shop.current().zone)
        self.stdout.write(f"{made.tool.code}: entry {made.number}, {made.kind}, {at:%Y-%m-%d %H:%M}")


def _cells(given: list[str]) -> dict[str, str]:
    cells = {}
    for one in given:
        column, equals, value = one.partition("=")
        if not equals:
            raise Refused(f"Write --set {one} as --set column=value.")
        cells[column.strip().lower()] = value
    return cells
