"""`make bench`: what the program costs, beside a floor measured in the same run."""

import subprocess
import sys

from shared.run import venv


def main() -> None:
    """Print the table; bench/__main__.py says what may be asked for."""
    python = venv.ready("requirements-test.txt")
    raise SystemExit(subprocess.run([python, "-m", "bench", *sys.argv[1:]], cwd=venv.ROOT).returncode)


if __name__ == "__main__":
    main()
