"""Processes that write at the same time into the test's database, and what they answered."""

import os
import subprocess
import sys
import threading
from collections.abc import Iterable
from urllib.parse import quote
from uuid import UUID

from django.db import connection

from tests.guards.tree import ROOT

Job = tuple[int, UUID]  # a tool's key, a form's token


class Process:
    """Several hands in one process. It is given jobs and answers which are done; it may be killed at any time."""

    def __init__(self, hands: int) -> None:
        pipe = subprocess.PIPE
        self._child = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.hands"],
            cwd=ROOT, env=environment(HANDS=str(hands)), stdin=pipe, stdout=pipe, text=True, bufsize=1,
        )  # fmt: skip
        self.done: list[UUID] = []
        self.errors: list[str] = []
        self._listener = threading.Thread(target=self._listen, daemon=True)
        self._listener.start()

    def give(self, jobs: Iterable[Job]) -> None:
        """Hand over all the work there is; the process ends when it is done."""
        assert self._child.stdin is not None
        with self._child.stdin as pipe:
            pipe.writelines(f"{tool} {token}\n" for tool, token in jobs)

    def kill(self) -> None:
        """As a power cut would end it."""
        self._child.kill()

    def wait(self) -> None:
        """Until it has ended and all its answers are read."""
        self._child.wait()
        self._listener.join()
        assert self._child.stdout is not None
        self._child.stdout.close()

    def _listen(self) -> None:
        assert self._child.stdout is not None
        for line in self._child.stdout:
            word, _, rest = line.strip().partition(" ")
            if word == "done":
                self.done.append(UUID(rest))
            else:
                self.errors.append(line)


def environment(**more: str) -> dict[str, str]:
    """That of a server on the test's own database, with the program's own settings."""
    return {**os.environ, "DJANGO_SETTINGS_MODULE": "shared.settings", "DATABASE_URL": database_url(), **more}


def database_url() -> str:
    """The test's database, as a server is told of it."""
    told = connection.settings_dict
    if connection.vendor == "sqlite":
        return f"sqlite:///{quote(str(told['NAME']))}"
    password = f":{quote(told['PASSWORD'], safe='')}" if told["PASSWORD"] else ""
    at = f"{quote(told['HOST'], safe='')}:{told['PORT']}" if told["PORT"] else quote(told["HOST"], safe="")
    return f"postgres://{told['USER']}{password}@{at}/{told['NAME']}"
