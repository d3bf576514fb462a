"""What every command of this program has in common."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from shared.errors import Refused


class ShopCommand(BaseCommand):
    """A command that says in one line on stderr what to change, and then exits with 1."""

    def execute(self, *args: Any, **options: Any) -> str | None:
        """Runs the command; what a service refuses is an error of the command."""
        try:
            return super().execute(*args, **options)
        except Refused as refused:
            raise CommandError(refused.message) from refused
