"""The libraries of the system that drawing on paper needs."""

import ctypes.util
import sys
from pathlib import Path

# As WeasyPrint loads them: Pango, its FreeType side, and HarfBuzz's cutting of fonts.
NEEDED = ("pango-1.0", "pangoft2-1.0", "harfbuzz-subset")
# The packages they come in, by the package manager.
PACKAGES = {"apt-get": ["libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0"], "brew": ["pango"]}
# Where Homebrew puts them, on both kinds of Mac.
HOMEBREW = (Path("/opt/homebrew/lib"), Path("/usr/local/lib"))


_here: set[str] = set()


def missing() -> list[str]:
    """The names of those that are not on this machine. One that was found is not looked for again: that takes long."""
    _here.update(name for name in NEEDED if name not in _here and _found(name))
    return [name for name in NEEDED if name not in _here]


def _found(name: str) -> bool:
    if ctypes.util.find_library(name):
        return True
    return sys.platform == "darwin" and any(folder.glob(f"lib{name}*.dylib") for folder in HOMEBREW)
