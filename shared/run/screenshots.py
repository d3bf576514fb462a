"""`make screenshots`: the pictures of the README, taken anew from the demo, in docs/pictures."""

import subprocess

from shared.run import browser, machine, venv
from shared.run.talk import say, stop

FOLDER = venv.ROOT / "docs" / "pictures"
PAGES = "tests/browser/long_screenshots.py"


def main() -> None:
    """Take them all; each takes the place of the one before."""
    python = venv.ready("requirements-test.txt")
    packages = browser.lacking()
    if packages and not machine.install(packages):
        stop(f"Without {' and '.join(packages)} no picture is taken. To add it:\n    {machine.line(packages)}")
    done = subprocess.run([python, "-m", "pytest", PAGES], cwd=venv.ROOT, stdin=subprocess.DEVNULL)
    if not done.returncode:
        taken = sorted(FOLDER.glob("*.webp"))
        size = sum(one.stat().st_size for one in taken)
        say(f"{len(taken)} pictures, {size // 1000} kB, are in {FOLDER}")
    raise SystemExit(done.returncode)


if __name__ == "__main__":
    main()
