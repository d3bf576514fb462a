"""`make faults`: the long runs of writers, kills and histories, on SQLite unless DATABASE_URL says otherwise."""

import os
import subprocess
import sys

from shared.run import venv

LONG = [
    "tests/faults/long_writers.py",
    "tests/faults/long_drill.py",
    "tests/tooling/services/test_random_histories.py",
    "tests/tooling/calc/test_invariants.py",
    "tests/tooling/sheets/test_random_roundtrip.py",
    "tests/tooling/backup/test_killed.py",
    "tests/tooling/test_nonsense.py",
    "tests/tooling/views/deeds/test_nonsense.py",
]
# The suite goes through some eighty of the made-up histories and fifty examples of each invariant, sends a part of
# the nonsense, and kills a restore twice.
MORE = {"HISTORIES": "2000", "EXAMPLES": "500"}


def main() -> None:
    """Run them one after the other: each wants the whole machine."""
    python = venv.ready("requirements-test.txt")
    env = {**MORE, **os.environ}
    command = [python, "-m", "pytest", "--durations=0", *LONG, *sys.argv[1:]]
    raise SystemExit(subprocess.run(command, cwd=venv.ROOT, env=env, stdin=subprocess.DEVNULL).returncode)


if __name__ == "__main__":
    main()
