"""Made-up histories out, into an empty shop and out again: late entries, corrections, voids, borrowed inserts."""

import csv
import json
import os
from io import StringIO
from random import Random

import pytest
from django.core.management import call_command
from django.db import connection

from tests.tooling.calc.histories import made
from tests.tooling.services.replayed import Written, at
from tests.tooling.sheets.shops import make_empty
from tooling.models import Entry, Flag
from tooling.services.sheets.exporting import export_shop
from tooling.services.sheets.importing import import_shop

RECORDED = {"number", "replaces", "voids", "recorded_at", "recorded_by"}
pytestmark = pytest.mark.django_db
# What differs between the databases is how they keep a value, which a few histories show; `make faults` tells sixty.
SEEDS = range(60 if "EXAMPLES" in os.environ else 6 if connection.vendor == "sqlite" else 3)


def answers(now):
    said = StringIO()
    call_command("release_status", "--at", now.isoformat(), "--format", "json", stdout=said)
    call_command("release_status", "--known-at", now.isoformat(), "--format", "json", stdout=said)
    return said.getvalue()


def write_and_export(history, folder):
    """The history through the ledger and out; the moment of its last deed."""
    written = Written(history)
    for deed in history.deeds:
        written.write(deed)
    export_shop(folder)
    return history.deeds[-1]["recorded_at"]


def flags():
    return set(Flag.objects.values_list("entry_id", "surface__code", "flag"))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_made_up_history_comes_back(seed, tmp_path):
    rng = Random(seed)
    history = made(rng, rng.randint(20, 60))
    now = write_and_export(history, tmp_path / "first")
    before = answers(now), flags(), Entry.objects.count()
    make_empty()
    with at(now):
        report = import_shop(tmp_path / "first")
        assert json.dumps(report.as_json()["errors"]) == "[]"
        call_command("check_history", stdout=StringIO())
    assert (answers(now), flags(), Entry.objects.count()) == before
    export_shop(tmp_path / "second")
    for table in (tmp_path / "first").iterdir():
        assert (tmp_path / "second" / table.name).read_bytes() == table.read_bytes()


@pytest.mark.parametrize("seed", SEEDS)
def test_what_stands_of_it_is_right_in_any_order_of_rows(seed, tmp_path):
    """As a person would type it: what is void or replaced is not there, nor who recorded what when."""
    rng = Random(seed)
    now = write_and_export(made(rng, rng.randint(20, 60), distinct=True), tmp_path)
    make_empty()
    with (tmp_path / "history.csv").open(newline="") as text:
        rows = list(csv.DictReader(text))
    gone = {row["voids"] or row["replaces"] for row in rows} | {row["number"] for row in rows if row["voids"]}
    rows = [row for row in rows if row["number"] not in gone]
    rng.shuffle(rows)
    with (tmp_path / "history.csv").open("w", newline="") as text:
        table = csv.DictWriter(text, [name for name in rows[0] if name not in RECORDED], extrasaction="ignore")
        table.writeheader()
        table.writerows(rows)
    with at(now):
        report = import_shop(tmp_path)
    # what the ledger took when it was recorded, and a late entry or a void has made idle since
    assert {problem.column for problem in report.problems()} <= {"release_system", "surface"}
