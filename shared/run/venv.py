"""The project's own virtual environment, in .venv."""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

from shared.run import machine
from shared.run.talk import say, stop

ROOT = Path(__file__).resolve().parent.parent.parent
FOLDER = ROOT / ".venv"
PYTHON = str(FOLDER / "bin" / "python")


def ready(requirements: str) -> str:
    """Its Python, with everything that the file of requirements names; nothing is done twice."""
    if not _works():
        _make()
    stamp = FOLDER / f"{requirements}.installed"
    wanted = _digest(requirements)
    if not stamp.exists() or stamp.read_text() != wanted:
        say(f"Installing what {requirements} names ...")
        _install(requirements)
        stamp.write_text(wanted)
    return PYTHON


def _works() -> bool:
    """Whether it is there, runs, has pip, and was made in this folder: a moved one writes into its old place."""
    if not os.path.exists(PYTHON):
        return False
    ask = "import pip, sys; print(sys.prefix); sys.exit(sys.version_info < (3, 11))"
    told = subprocess.run([PYTHON, "-c", ask], capture_output=True, text=True)
    return told.returncode == 0 and Path(told.stdout.strip()).resolve() == FOLDER.resolve()


def _make() -> None:
    """A new one, in place of one that cannot work."""
    shutil.rmtree(FOLDER, ignore_errors=True)
    machine.have_venv()
    say("Making a virtual environment in .venv ...")
    if subprocess.run([sys.executable, "-m", "venv", str(FOLDER)]).returncode:
        stop(f"The virtual environment in {FOLDER} could not be made; the lines above say why.")


def _digest(requirements: str) -> str:
    """What changes when one of the files does."""
    texts = [(ROOT / name).read_bytes() for name in ("requirements.txt", requirements)]
    return hashlib.sha256(b"\n".join(texts)).hexdigest()


def _install(requirements: str) -> None:
    pip = [PYTHON, "-m", "pip", "install", "-qq", "--disable-pip-version-check", "-r", str(ROOT / requirements)]
    if subprocess.run(pip, stdin=subprocess.DEVNULL).returncode:
        stop(f"{requirements} could not be installed; the lines above say why. Is this machine on the internet?")
