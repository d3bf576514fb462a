"""Folds every history again and checks chain, seals, triggers and spans."""

import json
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError

from shared.commands import ShopCommand
from shared.snapshot import one_moment
from tooling.models import Entry, Tool
from tooling.services import seals
from tooling.services.tools import relay
from tooling.services.whole_check import findings


class Command(ShopCommand):
    help = (
        "Folds every history again and checks chain, seals, triggers, summaries and spans. Exits with 1 on any fault."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """--relay --seal DIGEST --format text|json"""
        parser.add_argument(
            "--relay", action="store_true", help="lay summaries, flags and spans down anew from the entries, then check"
        )
        parser.add_argument(
            "--seal", default="", metavar="DIGEST", help="a seal kept outside, which must still be there"
        )
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Prints each fault with its tool and entry, the last seal, and how much was checked."""
        if options["relay"]:
            relay()
        with one_moment():  # people go on writing meanwhile
            found = [*findings(), *seals.missing(options["seal"])]
            last = seals.last()
            checked = {"tools": Tool.objects.count(), "entries": Entry.objects.count()}
        if options["format"] == "json":
            rows = [{"tool": one.tool, "entry": one.number, "message": one.what} for one in found]
            seal = {"day": last.day.isoformat(), "digest": last.digest} if last else None
            self.stdout.write(json.dumps({"checked": checked, "findings": rows, "seal": seal}, indent=1))
        else:
            for one in found:
                self.stdout.write(str(one))
            if last is not None:
                self.stdout.write(f"Last seal: {last.day.isoformat()} {last.digest}")
        if found:
            raise CommandError(f"{len(found)} faults in {checked['entries']} entries of {checked['tools']} tools.")
        if options["format"] == "text":
            self.stdout.write(f"No fault in {checked['entries']} entries of {checked['tools']} tools.")
