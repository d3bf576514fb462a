"""The clock of the pages' tests, where they ask for it."""

import pytest
import time_machine

from tests.tooling.views import works


@pytest.fixture
def morning(db):
    """It is 07:40 on a Tuesday in the shop, and stays so. Returns the paste wax of the shop."""
    with time_machine.travel(works.NOW, tick=False):
        yield works.open_shop()
