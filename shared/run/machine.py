"""Packages of the operating system: installed where that is allowed without asking, else named."""

import os
import shutil
import subprocess
import sys

from shared import libraries
from shared.run.talk import say, stop


def have_venv() -> None:
    """Make sure that virtual environments can be made; without them nothing goes on."""
    if _can_import("ensurepip") and _can_import("venv"):
        return
    package = "python3-venv" if sys.executable.startswith("/usr/bin/") else f"python3.{sys.version_info.minor}-venv"
    if not install([package]) or not _can_import("ensurepip"):
        stop(f"Python's venv module is missing. Type this, then try again:\n    {line([package])}")


def have_pango() -> None:
    """Put there what draws on paper, if nobody has to be asked. Without it all else works, as a system check says."""
    packages = libraries.PACKAGES.get(manager() or "")
    if packages and libraries.missing():
        install(packages)


def manager() -> str | None:
    """The package manager of this machine, of those known here."""
    return next((name for name in ("apt-get", "brew") if shutil.which(name)), None)


def line(packages: list[str]) -> str:
    """What a person types to install them."""
    if manager() == "brew":
        return f"brew install {' '.join(packages)}"
    return f"sudo apt-get update && sudo apt-get install {' '.join(packages)}"


def install(packages: list[str]) -> bool:
    """Install them if no password has to be asked for; whether that worked."""
    begin = _without_password()
    if begin is None:
        return False
    say(f"Installing {', '.join(packages)} ...")
    if manager() == "brew":
        return _quiet(["brew", "install", *packages])
    apt = [*begin, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-qq"]
    # An old list of packages names files that are gone; a failed update may still leave a good one.
    _quiet([*apt, "update"])
    return _quiet([*apt, "install", "-y", "--no-install-recommends", *packages])


def _without_password() -> list[str] | None:
    """How a command gets the right to install, or None when it would have to ask."""
    if manager() is None:
        return None
    if manager() == "brew" or os.geteuid() == 0:
        return []
    if shutil.which("sudo") and subprocess.run(["sudo", "-n", "true"], capture_output=True).returncode == 0:
        return ["sudo", "-n"]
    return None


def _can_import(module: str) -> bool:
    """Ask a new process: this one has looked already and would not look again."""
    return subprocess.run([sys.executable, "-c", f"import {module}"], capture_output=True).returncode == 0


def _quiet(command: list[str]) -> bool:
    """Run it; what it said is shown only when it failed."""
    pipe, both = subprocess.PIPE, subprocess.STDOUT
    done = subprocess.run(command, stdin=subprocess.DEVNULL, stdout=pipe, stderr=both, text=True)
    if done.returncode:
        say(done.stdout.strip())
    return done.returncode == 0
