"""`make looks`: a picture of every page in every size and colour, in build/looks, and index.html over them."""

import html
import shutil
import subprocess
import sys
from pathlib import Path

from shared.run import browser, machine, venv
from shared.run.talk import say, stop

FOLDER = venv.ROOT / "build" / "looks"
PAGES = "tests/browser/long_looks.py"
STYLE = """body { margin: 1rem; font: 1rem/1.4 system-ui, sans-serif; color-scheme: light dark; }
section > div { display: flex; gap: 1rem; overflow-x: auto; align-items: start; padding-bottom: 1rem; }
figure { margin: 0; } img { height: 24rem; width: auto; border: 1px solid #888; }"""


def main() -> None:
    """Take them anew; a page that axe or a small screen finds wrong is named, and still has its pictures."""
    python = venv.ready("requirements-test.txt")
    packages = browser.lacking()
    if packages and not machine.install(packages):
        stop(f"Without {' and '.join(packages)} no picture is taken. To add it:\n    {machine.line(packages)}")
    shutil.rmtree(FOLDER, ignore_errors=True)
    # Two of them keep two processors busy; more would only wait for each other.
    command = [python, "-m", "pytest", "--numprocesses", "2", "--dist", "worksteal", PAGES, *sys.argv[1:]]
    done = subprocess.run(command, cwd=venv.ROOT, stdin=subprocess.DEVNULL)
    if FOLDER.exists():
        sheet = FOLDER / "index.html"
        sheet.write_text(contact_sheet(FOLDER), encoding="utf-8")
        say(f"{len(list(FOLDER.glob('*/*.png')))} pictures are in {FOLDER}\nAll of them beside each other: {sheet}")
    raise SystemExit(done.returncode)


def contact_sheet(folder: Path) -> str:
    """A page that shows each picture small, those of one page in one row."""
    rows = [_row(pictures) for pictures in sorted(folder.iterdir()) if pictures.is_dir()]
    head = f'<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>Looks</title><style>{STYLE}</style>'
    return "\n".join([head, "<h1>Looks</h1>", *rows, "</html>"])


def _row(pictures: Path) -> str:
    name = html.escape(pictures.name)
    shown = [
        f'<figure><a href="{name}/{one.name}"><img loading="lazy" src="{name}/{one.name}" alt="{name}, {one.stem}"></a>'
        f"<figcaption>{one.stem}</figcaption></figure>"
        for one in sorted(pictures.glob("*.png"))
    ]
    return f"<section><h2>{name}</h2><div>{''.join(shown)}</div></section>"


if __name__ == "__main__":
    main()
