"""A small shop with everything in it, and a backup of it."""

import shutil
import sqlite3
from pathlib import Path
from uuid import uuid4

import pytest
from django.conf import settings as current
from django.core.management import call_command
from django.db import connection

from tests.faults.works import open_shop
from tests.fixtures.once import once
from tests.plugin_triggers import lifted
from tests.tooling.pictures import add, file_of
from tests.tooling.rows import NOON
from tooling.models import Part, PartRevision, Person, Picture, Role, SetLine, Tool, Wanted
from tooling.services import deeds
from tooling.services.backup import loading
from tooling.services.backup.writing import back_up
from tooling.services.entry_pictures import picture_of


@pytest.fixture
def folders(settings, tmp_path):
    """DATA_DIR and media of this test alone."""
    settings.DATA_DIR = tmp_path / "data"
    settings.MEDIA_ROOT = settings.DATA_DIR / "media"
    settings.DATA_DIR.mkdir()
    return settings.DATA_DIR


@once
def eight_molds():
    return open_shop(tools=8)


@pytest.fixture
def shop(transactional_db, folders):
    """Molds with inserts, some pulls, two pictures, a tool set, a lead. Committed: a backup sees nothing else."""
    molds = Tool.objects.filter(pk__in=eight_molds()[:3])
    for mold in molds:
        deeds.log_pull(mold, by=None, recorded_by=None, token=uuid4(), came_off="free")
    add(molds[0], 1)
    of_pull = picture_of(molds[1].entries.get(kind="pull"), file_of(2), by=None, at=NOON).picture
    Picture.objects.filter(pk=of_pull.pk).update(mark_x=250, mark_y=750)
    made = PartRevision.objects.create(part=Part.objects.create(number="HULL"), revision="B", name="Hull")
    SetLine.objects.create(revision=made, role="mold", tool=molds[0], order=1, confirmed=False)
    Wanted.objects.create(part=made.part, revision=made, count=2, at=NOON)
    Person.objects.create_person("Zoë Łukasz", Role.LEAD, "long enough for a test")
    return molds[0]


@pytest.fixture
def backup(shop, tmp_path):
    """The file of it."""
    return back_up(tmp_path / "shop.zip").path


# The tables that the migrations of a backup make, still empty: a database in memory, or what PostgreSQL was told.
_made: dict[tuple, object] = {}


@pytest.fixture
def tables_made_once(monkeypatch):
    """The first restore of a state goes through its migrations, later ones get what came of that.

    Working out twenty times what all of them come to takes longer than what these tests are about.
    """
    make, ways = loading._migrate, {"sqlite": (_make_kept, _copy), "postgresql": (_make_noted, _tell)}
    make_and_keep, again = ways[connection.vendor]

    def once(recorded):
        if not recorded:
            make(recorded)
        elif (key := tuple(recorded)) in _made:
            again(_made[key])
        else:
            _made[key] = make_and_keep(make, recorded)

    monkeypatch.setattr(loading, "_migrate", once)


def _make_kept(make, recorded):
    make(recorded)
    kept = sqlite3.connect(":memory:")
    connection.connection.backup(kept)
    return kept


def _copy(kept):
    connection.ensure_connection()
    kept.backup(connection.connection)


def _make_noted(make, recorded):
    told = []

    def note(execute, sql, params, many, context):
        told.append((str(sql), params, many))
        return execute(sql, params, many, context)

    with connection.execute_wrapper(note):
        make(recorded)
    return [one for one in told if not one[0].startswith("SELECT")]


def _tell(told):
    with connection.cursor() as cursor:
        for sql, params, many in told:
            (cursor.executemany if many else cursor.execute)(sql, params)


def wipe() -> None:
    """The shop is gone, and its pictures with it."""
    with lifted():
        call_command("flush", interactive=False, verbosity=0)
    shutil.rmtree(current.MEDIA_ROOT, ignore_errors=True)


def exported(folder: Path) -> dict[str, bytes]:
    """The whole shop as sheets."""
    call_command("export_shop", str(folder), verbosity=0)
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def pictures() -> dict[str, bytes]:
    """Every stored picture by its name."""
    root = Path(current.MEDIA_ROOT)
    return {path.name: path.read_bytes() for path in root.rglob("*.jpg")}
