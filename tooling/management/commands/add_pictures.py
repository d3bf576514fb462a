"""Pictures that are already on a disk, named by code."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from shared import clock
from shared.commands import ShopCommand
from tooling.models import Person
from tooling.models.people import name_key
from tooling.services.picture_folder import add_pictures


class Command(ShopCommand):
    help = (
        "Adds the pictures of a folder or ZIP to the tools whose codes they are named by: DECK-2A.jpg, DECK-2A_2.jpg, "
        "“DECK-2A front.jpg”, or any names in a folder DECK-2A. Again is harmless."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """PATH --by NAME"""
        parser.add_argument("path", metavar="PATH", type=Path, help="a folder, or a ZIP")
        parser.add_argument("--by", metavar="NAME", default="", help="who took them; nobody is named otherwise")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints what was added and names every file that was not taken; exits with 1 where there is one."""
        by = None
        if options["by"]:
            by = Person.objects.filter(name_key=name_key(options["by"])).first()
            if by is None:
                raise CommandError(f"Nobody is called {options['by']}.")
        taken = add_pictures(options["path"], by=by, at=clock.now())
        for name, why in taken.wrong:
            self.stdout.write(f"{name}: {why}")
        self.stdout.write(f"{taken.added} added, {taken.there} were there already")
        if taken.wrong:
            raise CommandError(f"Not taken: {len(taken.wrong)}. The others are in.")
