"""For tests that read settings from the environment."""

import pytest

from shared import environment


@pytest.fixture
def problems(monkeypatch):
    """The list of problems, empty at the start of a test and restored after it."""
    fresh: list[environment.Problem] = []
    monkeypatch.setattr(environment, "problems", fresh)
    return fresh
