"""The drill of `make faults`: thousands of pulls by sixteen hands while the shop is backed up again and again."""

import pytest

from tests.faults.drill import drill
from tests.tooling.backup.conftest import folders

__all__ = ["folders"]
pytestmark = pytest.mark.django_db(transaction=True)


def test_every_backup_under_load_can_be_restored(folders, tmp_path):
    drill(tmp_path, pulls=3_000, hands=8, backups=10)
