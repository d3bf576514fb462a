"""The whole shop is taken along with one click, and comes in again on the screen."""

import threading
import zipfile

import pytest

from shared import clock
from tests.tooling.moving_in.uploads import bring_in, run, take_up
from tests.tooling.sheets.books import content
from tests.tooling.sheets.shops import make_empty, make_shop
from tooling.models import Job, Person
from tooling.services import jobs
from tooling.services.jobs.files import file_of
from tooling.services.jobs.working import work
from tooling.services.moving_in.leaving import EXPORT
from tooling.services.sheets.exporting import export_shop

pytestmark = [pytest.mark.django_db, pytest.mark.both]


def exported(lead, kind):
    job = jobs.ask(EXPORT, by=lead, at=clock.now(), given={"as": kind})
    work(threading.Event(), once=True)
    job.refresh_from_db()
    assert job.state == "done", job.words
    return file_of(job)


@pytest.mark.parametrize("kind", ["xlsx", "csv"])
def test_out_and_in_again_is_an_equal_shop(lead, kind, tmp_path):
    make_shop()
    path = exported(lead, kind)
    before, given = tmp_path / "before.xlsx", path.read_bytes()
    export_shop(before)
    Job.objects.all().delete()
    make_empty()
    lead = Person.objects.create_person("Ines", "lead", "long enough for a test")
    moving = run(take_up(lead, (path.name, given)), lead)
    assert moving.report["wrong_rows"] == 0, moving.report["errors"][:3]
    moving = bring_in(moving, lead)
    assert moving.brought_in_at is not None
    export_shop(tmp_path / "after.xlsx")
    assert content(tmp_path / "after.xlsx") == content(before)


def test_tables_are_packed_with_nothing_else(lead):
    path = exported(lead, "csv")
    with zipfile.ZipFile(path) as packed:
        assert "tools.csv" in packed.namelist()
        assert all(name.endswith(".csv") for name in packed.namelist())
    assert [one for one in path.parent.iterdir() if one.suffix != ".json"] == [path]
