"""Does long work for the screens."""

import signal
import threading
from argparse import ArgumentParser
from typing import Any

from shared.commands import ShopCommand
from tooling.services.jobs.working import work


class Command(ShopCommand):
    help = (
        "Does the long work that pages ask for (imports, exports, backups), one job after the other, until it is told "
        "to end. `make run` starts it; more than one is harmless, the others stand by."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """--once"""
        parser.add_argument("--once", action="store_true", help="do what waits now, then end")

    def handle(self, *args: Any, **options: Any) -> None:
        """Ends cleanly on Ctrl-C and on SIGTERM: a job at work stops at its next step and says so."""
        ending = threading.Event()
        for sign in (signal.SIGTERM, signal.SIGINT):
            if threading.current_thread() is threading.main_thread():
                signal.signal(sign, lambda *_: ending.set())
        count = work(ending, once=options["once"])
        if options["once"]:
            self.stdout.write("1 job done" if count == 1 else f"{count} jobs done")
