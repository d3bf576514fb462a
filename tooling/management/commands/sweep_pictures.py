"""Files of pictures that no row names."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError

from shared import clock
from shared.commands import ShopCommand
from tooling.services.picture_files import sweep


class Command(ShopCommand):
    help = "Removes stored files, a day old or more, that belong to no picture, old ones included; names lost files."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """--dry-run"""
        parser.add_argument("--dry-run", action="store_true", help="only say what would be removed")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints what was removed; exits with 1 where the file of a picture is not there."""
        swept = sweep(clock.now(), dry_run=options["dry_run"])
        for name in swept.removed:
            self.stdout.write(name)
        done = "would be removed" if options["dry_run"] else "removed"
        self.stdout.write(f"{len(swept.removed)} {done}")
        if swept.lost:
            raise CommandError(f"Pictures whose files are lost: {', '.join(swept.lost)}")
