"""`make test`: the whole suite from nothing, on SQLite unless DATABASE_URL says otherwise.

With REQUIRE_ALL=1 whatever would be left out is a failure.
"""

import subprocess
import sys
import time

from shared.run import browser, machine, venv
from shared.run.talk import say


def main() -> None:
    """Look at the sources, then run the tests; every step is run, so that one run tells all."""
    python = venv.ready("requirements-test.txt")
    machine.have_pango()
    packages = browser.lacking()
    if packages and not machine.install(packages):
        say(f"Without {' and '.join(packages)} no browser is driven. To add it:\n    {machine.line(packages)}")
    steps = {
        "format": [python, "-m", "ruff", "format", "--check", "--quiet", "."],
        "ruff": [python, "-m", "ruff", "check", "."],
        "mypy": [python, "-m", "mypy"],
        "pytest": [
            python,
            "-m",
            "pytest",
            "--numprocesses",
            "auto",
            "--dist",
            "worksteal",
            "--durations=5",
            *sys.argv[1:],
        ],
    }
    failed = [name for name, command in steps.items() if not _passes(name, command)]
    if failed:
        say(f"Failed: {', '.join(failed)}.")
        raise SystemExit(1)
    say("All passed.")


def _passes(name: str, command: list[str]) -> bool:
    say(f"--- {name}")
    began = time.monotonic()
    done = subprocess.run(command, cwd=venv.ROOT, stdin=subprocess.DEVNULL)
    say(f"--- {name} took {time.monotonic() - began:.0f} s")
    return done.returncode == 0


if __name__ == "__main__":
    main()
