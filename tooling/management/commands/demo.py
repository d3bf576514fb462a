"""The demo shop, for an empty database."""

from contextlib import nullcontext
from typing import Any

from django.core.management.base import CommandError

from fixtures import demo
from shared import clock
from shared.commands import ShopCommand
from shared.talking import progress_line
from tooling.selectors.shop import is_empty


class Command(ShopCommand):
    help = "Loads the demo shop into an empty database. One that holds a shop is left as it is, and refused."

    def handle(self, *args: Any, **options: Any) -> None:
        """Refuses, or writes the whole demo in one transaction."""
        if not is_empty():
            raise CommandError(
                "This database holds a shop already, so no demo is loaded. Point DATA_DIR to a new folder."
            )
        silent = options["verbosity"] == 0
        if not silent:
            self.stdout.write("The demo shop is told from its first day on, which takes some twenty seconds.")
        with nullcontext(_nothing) if silent else progress_line(self.stdout) as tell:
            count = demo.load(clock.now(), lambda done, of: tell(done, of, "Twenty months of a works:"))
        if not silent:
            self.stdout.write(f"The demo shop is loaded: {count} entries in the histories of its tools.")


def _nothing(done: int, of: int, words: str) -> None:
    """Nobody asked."""
