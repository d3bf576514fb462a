"""Everything of the shop in one file."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from shared import clock
from shared.commands import ShopCommand
from shared.talking import progress_line
from tooling.services.backup.before_migrate import keep_before_migrate
from tooling.services.backup.writing import Kept, back_up
from tooling.services.keeping import remember_backup


class Command(ShopCommand):
    help = (
        "Writes everything of the shop, its pictures too, into one file while people work, reads it back and compares "
        "it before it says done. The file holds the hashes of passwords: keep it where only people you trust reach it."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """FILE | --before-migrate"""
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("file", metavar="FILE", type=Path, nargs="?", help="where to; a former backup is replaced")
        what.add_argument(
            "--before-migrate",
            action="store_true",
            help="as make run does: into DATA_DIR/backups where a migration is to come, else a quick copy on SQLite",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints where the backup is and what is in it."""
        with progress_line(self.stderr) as tell:
            if options["before_migrate"]:
                made = keep_before_migrate(at=clock.now(), tell=tell)
            else:
                made = back_up(options["file"], tell=tell)
                remember_backup(made.manifest.made_at)
        if isinstance(made, Kept):
            self.say(made)
        elif made is not None:
            self.stdout.write(f"Copied the database to {made}")

    def say(self, made: Kept) -> None:
        """What was kept; an error where pictures had no file to be kept."""
        told = made.manifest
        self.stdout.write(
            f"Backed up to {made.path}: {told.rows} rows, {told.pictures} pictures, read back and compared."
        )
        if told.seal:
            self.stdout.write(f"Last seal: {' '.join(told.seal)}")
        if told.lost:
            raise CommandError(
                f"All else is in it, but {len(told.lost)} pictures have lost their file: {', '.join(told.lost[:5])}. "
                "sweep_pictures lists them."
            )
