"""The pictures of the README."""

import re

from shared.run.screenshots import FOLDER
from tests.guards.tree import ROOT

MOST, MOST_OF_ALL = 150_000, 1_200_000


def test_the_readme_shows_every_picture_and_none_is_heavy():
    shown = set(re.findall(r"\(docs/pictures/([^)]+)\)", (ROOT / "README.md").read_text(encoding="utf-8")))
    sizes = {path.name: path.stat().st_size for path in FOLDER.iterdir()}
    assert shown == set(sizes)
    assert max(sizes.values()) <= MOST
    assert sum(sizes.values()) <= MOST_OF_ALL
