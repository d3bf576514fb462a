"""Every row of the bench can still be asked for: what it measures is there under the name that it knows."""

from importlib import import_module
from pathlib import Path

import pytest

import bench.rows

ROWS = sorted(path.stem for path in Path(bench.rows.__file__).parent.glob("[a-z]*.py"))


@pytest.mark.parametrize("name", ROWS)
def test_a_row_knows_what_it_measures(name):
    assert callable(import_module(f"bench.rows.{name}").measure)
