"""`make faults`: the long runs of writers and kills, on SQLite unless DATABASE_URL says otherwise."""

import subprocess
import sys

from shared.run import venv

LONG = ["tests/faults/long_writers.py", "tests/faults/long_drill.py"]


def main() -> None:
    """Run them one after the other: each wants the whole machine."""
    python = venv.ready("requirements-test.txt")
    command = [python, "-m", "pytest", "--durations=0", *LONG, *sys.argv[1:]]
    raise SystemExit(subprocess.run(command, cwd=venv.ROOT, stdin=subprocess.DEVNULL).returncode)


if __name__ == "__main__":
    main()
