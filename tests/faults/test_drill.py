"""The drill, short: under load on this database, and from one kind of database to the other and back."""

import pytest

from tests.faults.crew import database_url
from tests.faults.drill import drill, here, jobs_for, manage, pictures_in
from tests.faults.hands import pull
from tests.tooling.backup.conftest import exported, folders, pictures, wipe
from tooling.services.backup.writing import back_up
from tooling.services.whole_check import findings

__all__ = ["folders"]
pytestmark = pytest.mark.django_db(transaction=True)


def test_a_backup_under_load_is_the_shop_at_one_moment(folders, tmp_path):
    drill(tmp_path, pulls=160, hands=4, backups=2)


@pytest.mark.postgresql
def test_a_shop_moves_from_postgresql_to_sqlite_and_back(folders, tmp_path):
    for tool, token in jobs_for(40):
        pull(tool, token)
    kept = exported(tmp_path / "kept"), pictures()
    there, first, second = tmp_path / "sqlite", back_up(tmp_path / "first.zip").path, tmp_path / "second.zip"
    manage("restore", str(first), folder=there)
    manage("check_history", folder=there)
    manage("export_shop", str(tmp_path / "on-sqlite"), folder=there)
    assert {path.name: path.read_bytes() for path in (tmp_path / "on-sqlite").iterdir()} == kept[0]
    assert pictures_in(there) == kept[1]
    manage("backup", str(second), folder=there)
    wipe()
    manage("restore", str(second), folder=here(), database=database_url())
    assert (exported(tmp_path / "again"), pictures()) == kept
    assert not list(findings())


@pytest.mark.sqlite
def test_a_shop_moves_into_another_folder_by_the_commands_alone(folders, tmp_path):
    for tool, token in jobs_for(20):
        pull(tool, token)
    kept = exported(tmp_path / "kept"), pictures()
    there = tmp_path / "other"
    manage("backup", str(tmp_path / "shop.zip"), folder=here(), database=database_url())
    manage("restore", str(tmp_path / "shop.zip"), folder=there)
    manage("export_shop", str(tmp_path / "moved"), folder=there)
    assert {path.name: path.read_bytes() for path in (tmp_path / "moved").iterdir()} == kept[0]
    assert pictures_in(there) == kept[1]
