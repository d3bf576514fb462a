"""The project speaks of itself only: no place on somebody's machine, and one spelling of its own words."""

import re

import pytest

from tests.guards.tree import ROOT, committed

TEXT = (".py", ".md", ".html", ".css", ".js", ".toml", ".txt", ".sh", ".yml", ".json", ".csv", ".svg", "")
SELF = ROOT / "tests" / "guards" / "test_own_voice.py"
STRANGE = {
    "a folder of somebody's machine": re.compile(r"(?<![\w.])/(?:work|home|Users|root|tmp)/[a-z]", re.IGNORECASE),
    "a number of somebody's list": re.compile(r"\bissue #?\d+", re.IGNORECASE),
    "text that stands in for text": re.compile(r"lorem ipsum|coming soon", re.IGNORECASE),
    "mould for mold": re.compile(r"\bmould", re.IGNORECASE),
}


def texts() -> list:
    paths = (path for path in committed() if path.suffix in TEXT and path != SELF)
    return [pytest.param(path, id=str(path.relative_to(ROOT))) for path in paths]


@pytest.mark.parametrize("path", texts())
def test_the_tree_speaks_of_itself_only(path):
    text = path.read_text(encoding="utf-8", errors="replace")
    found = [f"{what}: {match.group(0)}" for what, pattern in STRANGE.items() for match in pattern.finditer(text)]
    assert not found
