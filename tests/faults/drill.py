"""The drill: the shop is backed up while it is written in, lost, restored, and must be the same."""

import os
import subprocess
import sys
from itertools import cycle, islice
from pathlib import Path
from uuid import uuid4

from django.conf import settings
from django.db import connection

from shared import clock
from tests.faults.crew import Job, Process
from tests.faults.works import must_agree, open_shop
from tests.guards.tree import ROOT
from tests.tooling.backup.conftest import exported, pictures, wipe
from tests.tooling.pictures import add
from tooling.models import Entry, Tool
from tooling.services.backup.restoring import restore
from tooling.services.backup.writing import back_up
from tooling.services.whole_check import findings


def drill(folder: Path, pulls: int, hands: int, backups: int) -> None:
    """Every backup under load is whole: what was acknowledged before it is in it, and nothing is wrong anywhere."""
    jobs = jobs_for(pulls)
    writers = [Process(hands=hands) for _ in range(2)]
    for place, writer in enumerate(writers):
        writer.give(jobs[place::2])
    made = []
    while not made or (len(made) < backups and sum(len(writer.done) for writer in writers) < pulls):
        before = {token for writer in writers for token in writer.done}
        made.append((before, back_up(folder / f"under-load-{len(made)}.zip").path))
    for writer in writers:
        writer.wait()
    assert "".join(error for writer in writers for error in writer.errors) == ""
    assert made[0][0] != {token for _, token in jobs}, "the load was over before the first backup began"
    last = back_up(folder / "last.zip").path
    kept = exported(folder / "kept"), pictures()
    for before, path in made:
        assert lost_and_restored(path) == []
        assert before <= set(Entry.objects.exclude(token=None).values_list("token", flat=True))
        must_agree(jobs, list(Entry.objects.filter(kind="pull").values_list("token", flat=True)))
    assert lost_and_restored(last) == []
    assert (exported(folder / "restored"), pictures()) == kept
    must_agree(jobs, [token for writer in writers for token in writer.done])


def jobs_for(pulls: int) -> list[Job]:
    """Pulls to be written, in a shop with pictures."""
    molds = open_shop()
    for place, mold in enumerate(Tool.objects.filter(pk__in=molds[:4])):
        add(mold, place)
    return [(tool, uuid4()) for tool in islice(cycle(molds), pulls)]


def lost_and_restored(path: Path) -> list[str]:
    """Everything wrong in the history after a shop was wiped and restored."""
    wipe()
    restore(path, replace=False, at=clock.now())
    return [str(one) for one in findings()]


def manage(*words: str, folder: Path, database: str = "") -> None:
    """A command in another place: on a SQLite file in a folder of its own, or on a database by its address."""
    connection.close()  # whoever restores wants the database alone
    env = {**os.environ, "DJANGO_SETTINGS_MODULE": "shared.settings", "DATA_DIR": str(folder), "DATABASE_URL": database}
    done = subprocess.run([sys.executable, "manage.py", *words], cwd=ROOT, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


def pictures_in(folder: Path) -> dict[str, bytes]:
    """Every stored picture of a place by its name."""
    return {path.name: path.read_bytes() for path in (folder / "media").rglob("*.jpg")}


def here() -> Path:
    """The folder of this shop."""
    return Path(settings.DATA_DIR)
