"""A shop out of a backup."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from shared import clock
from shared.commands import ShopCommand
from shared.talking import progress_line
from tooling.services.backup.restoring import restore


class Command(ShopCommand):
    help = (
        "Puts the shop of a backup into an empty database, or with --replace in place of the one that is there, which "
        "is backed up first. All of it or nothing. No migrate is needed before; end server and worker first. "
        "Everybody signs in again afterwards."
    )
    # The database may be empty, or older than the program.
    requires_system_checks = []
    holds = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        """FILE --replace"""
        parser.add_argument("file", metavar="FILE", type=Path, help="what the command backup wrote")
        parser.add_argument("--replace", action="store_true", help="put it in place of the shop that is there")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints what was restored, and from when; an error where the history that was backed up has faults."""
        with progress_line(self.stderr) as tell:
            done = restore(options["file"], replace=options["replace"], at=clock.now(), tell=tell)
        if done.before is not None:
            self.stdout.write(f"The shop that was here is in {done.before}")
        told = done.manifest
        when = f"{told.made_at:%Y-%m-%d %H:%M} UTC"
        self.stdout.write(f"Restored the shop as it was at {when}: {told.rows} rows, {told.pictures} pictures.")
        if told.seal:
            self.stdout.write(f"Last seal: {' '.join(told.seal)}")
        for one in done.findings:
            self.stdout.write(str(one))
        if done.findings:
            raise CommandError(f"It is restored as it was kept, with {len(done.findings)} faults in its history.")
        self.stdout.write("Its history was checked: no fault.")
