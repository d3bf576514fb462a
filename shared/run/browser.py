"""The Chromium of this machine; a browser is never downloaded."""

import ctypes.util
import os
import shutil
import subprocess
import sys

NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
)


def find() -> str | None:
    """Its path, or None when there is none that starts; CHROMIUM names another one."""
    for name in (os.environ.get("CHROMIUM", ""), *NAMES):
        path = shutil.which(name) if name else None
        if path and _starts(path):
            return path
    return None


def lacking() -> list[str]:
    """The packages without which no test can drive it."""
    packages = [] if find() else ["chromium"]
    # The driver of the tests is linked against it, and a small system comes without.
    if sys.platform == "linux" and not ctypes.util.find_library("atomic"):
        packages.append("libatomic1")
    return packages


def _starts(path: str) -> bool:
    """Ubuntu's package of that name may be an empty shell that only points to another installer."""
    try:
        return subprocess.run([path, "--version"], capture_output=True, timeout=60).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False
