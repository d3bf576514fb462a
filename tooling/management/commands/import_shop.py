"""Takes a shop's sheets in."""

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from shared.commands import ShopCommand
from shared.errors import Refused
from tooling.services.sheets.importing import import_shop
from tooling.services.sheets.registry import sheets
from tooling.services.sheets.report import Problem, Report


class Command(ShopCommand):
    @property
    def help(self) -> str:  # type: ignore[override]
        """What it does, with the sheets that there are."""
        *names, last = (sheet.name for sheet in sheets())
        return (
            f"Takes an .xlsx workbook or a folder of .csv into the shop, all or nothing: the sheets {', '.join(names)} "
            f"and {last}. Every row that cannot be taken is listed with what to change."
        )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """PATH --dry-run --format text|json"""
        parser.add_argument("path", metavar="PATH", type=Path, help="an .xlsx workbook, or a folder of .csv")
        parser.add_argument("--dry-run", action="store_true", help="check everything, write nothing")
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints what was read and written, or one JSON document; exits with 1 where a row is wrong."""
        as_json = options["format"] == "json"
        try:
            report = import_shop(options["path"], dry_run=options["dry_run"])
        except Refused as refused:
            if as_json:
                unread = Report()
                unread.wrong("", 1, "", refused.message)
                self.stdout.write(json.dumps(unread.as_json(), indent=1))
            raise
        problems = list(report.problems())
        if as_json:
            self.stdout.write(json.dumps(report.as_json(), indent=1))
        else:
            self._print(report, problems, options["dry_run"])
            for remark in report.notes:
                self.stdout.write(f"Note: {remark}")
        if problems:
            rows = "1 row is wrong" if len(problems) == 1 else f"{len(problems)} rows are wrong"
            raise CommandError(f"Nothing was written: {rows}.")

    def _print(self, report: Report, problems: list[Problem], dry_run: bool) -> None:
        for problem in problems:
            self.stdout.write(str(problem))
        if problems:
            return
        for sheet, count in report.read.items():
            done = "all right" if dry_run else f"{report.written[sheet]} written"
            self.stdout.write(f"{sheet}: {count} read, {done}")
