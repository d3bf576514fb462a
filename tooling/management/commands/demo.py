"""The demo shop, for an empty database."""

from typing import Any

from django.core.management.base import CommandError

from fixtures import demo
from shared import clock
from shared.commands import ShopCommand
from tooling.selectors.shop import is_empty


class Command(ShopCommand):
    help = "Loads the demo shop into an empty database. One that holds a shop is left as it is, and refused."

    def handle(self, *args: Any, **options: Any) -> None:
        """Refuses, or writes the whole demo in one transaction."""
        if not is_empty():
            raise CommandError(
                "This database holds a shop already, so no demo is loaded. Point DATA_DIR to a new folder."
            )
        count = demo.load(clock.now())
        self.stdout.write(f"The demo shop is loaded: {count} entries in the histories of its tools.")
