"""The command: what it prints, what it ends with, and what the shop's own row may say."""

import json
import subprocess
import sys
from datetime import date, timedelta
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.fixtures import new_shop
from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tooling.management.commands.import_shop import Command
from tooling.models import Entry, Place, RecipeVersion, Seal, Shop, Span, Summary, Tool
from tooling.services.sheets import registry
from tooling.services.sheets.table import Column, Sheet

pytestmark = pytest.mark.django_db

ROOT = Path(__file__).parents[3]
SHOP = {"name": "Works", "time_zone": "Europe/Oslo", "week": "Mon-Fri 08:00-17:00", "hands": 3}
GOOD = {
    "shop": [SHOP],
    "tools": [{"code": "M1", "kind": "mold", "name": "Deck"}],
    "history": [{"tool": "M1", "at": "2026-03-02", "entry": "note", "note": "first"}],
}
BAD = {**GOOD, "history": [*GOOD["history"], {"tool": "M1", "at": "2026-03-02", "entry": "pull", "count": 501}]}


def printed(path, *options):
    out = StringIO()
    call_command("import_shop", str(path), *options, stdout=out)
    return out.getvalue()


def test_it_says_what_it_read_and_wrote(tmp_path):
    assert printed(write_csv(tmp_path / "b", GOOD)).splitlines() == [
        "shop: 1 read, 1 written",
        "tools: 1 read, 1 written",
        "history: 1 read, 1 written",
    ]
    assert Entry.objects.get().recorded_by is None
    assert Span.objects.exists()
    assert Seal.objects.count() == 1


def test_its_help_names_every_sheet():
    said = Command().help
    assert [sheet.name for sheet in registry.sheets() if sheet.name not in said] == []


def test_a_dry_run_writes_nothing(tmp_path):
    path = write_csv(tmp_path / "b", GOOD)
    assert printed(path, "--dry-run").splitlines()[-1] == "history: 1 read, all right"
    assert taken(path, "--dry-run")["written"] == {"shop": 0, "tools": 0, "history": 0}
    assert not any(model.objects.exists() for model in (Shop, Tool, Entry, Summary, Seal))


def test_wrong_rows_are_listed_in_lines(tmp_path):
    out = StringIO()
    with pytest.raises(CommandError, match=r"^Nothing was written: 1 row is wrong\.$"):
        call_command("import_shop", str(write_csv(tmp_path / "b", BAD)), stdout=out)
    assert out.getvalue() == "history, row 3, count: The count is 501; it goes from 1 to 500.\n"


def test_the_json_document(tmp_path):
    report = taken(write_csv(tmp_path / "b", BAD))
    assert list(report) == ["read", "written", "errors", "notes"]
    assert report["read"] == {"shop": 1, "tools": 1, "history": 2}
    assert report["errors"] == [
        {"sheet": "history", "row": 3, "column": "count", "message": "The count is 501; it goes from 1 to 500."}
    ]


@pytest.mark.sqlite  # the processes have a shop of their own, which is SQLite's in either run
def test_a_process_ends_with_1_and_says_one_line_on_stderr(tmp_path):
    environment = new_shop.put(tmp_path / "data")

    def manage(*words):
        command = [sys.executable, "manage.py", *words]
        return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)

    good, bad = (write_csv(tmp_path / name, sheets) for name, sheets in (("good", GOOD), ("bad", BAD)))
    for path, lines in ((bad, 1), (tmp_path / "none.xlsx", 1)):
        ended = manage("import_shop", str(path), "--format", "json")
        assert (ended.returncode, len(ended.stderr.splitlines())) == (1, lines)
        assert json.loads(ended.stdout)["errors"]
    ended = manage("import_shop", str(good), "--format", "json")
    assert (ended.returncode, ended.stderr) == (0, "")
    assert json.loads(ended.stdout)["errors"] == []
    assert manage("export_shop", str(tmp_path / "out")).returncode == 0
    assert manage("check_history").returncode == 0


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("time_zone", "Mars/Olympus"),
        ("week", "always"),
        ("closed_days", "Christmas"),
        ("hands", 0),
        ("hands", 10000),
        ("week", "Mon-Fri 17:00-08:00"),
        ("week", "Mon 08:00-12:00, Mon 11:00-17:00"),
        ("closed_days", ", ".join(str(date(2026, 1, 1) + timedelta(days=n)) for n in range(400))),
        ("formal_records", "often"),
        ("formal_since", "2026-03-02"),
        ("retention_years", -1),
        ("name", "x" * 201),
    ],
)
def test_a_shop_that_cannot_be(tmp_path, column, value):
    sheets = {**GOOD, "shop": [{**SHOP, column: value}]}
    assert cells_at_fault(write_csv(tmp_path / "b", sheets)) == [("shop", 2, column)]


def test_a_shop_is_one_row(tmp_path):
    assert cells_at_fault(write_csv(tmp_path / "b", {"shop": [SHOP, SHOP]})) == [("shop", 3, "name")]


def test_what_the_first_lead_said_of_an_empty_shop_gives_way(tmp_path):
    Shop(name="New", time_zone="UTC", hands=5).save()
    assert taken(write_csv(tmp_path / "b", {"shop": [{"name": "Works", "time_zone": "Europe/Oslo"}]}))["written"] == {
        "shop": 1
    }
    assert Shop.objects.values_list("name", "time_zone", "hands").get() == ("Works", "Europe/Oslo", 5)


def test_a_shop_with_tools_keeps_what_it_says_of_itself(tmp_path):
    taken(write_csv(tmp_path / "b", GOOD))
    assert taken(write_csv(tmp_path / "same", {"shop": [SHOP]}))["written"] == {"shop": 0}
    other = {"shop": [{**SHOP, "time_zone": "UTC"}]}
    assert cells_at_fault(write_csv(tmp_path / "other", other)) == [("shop", 2, "time_zone")]


def test_a_shop_without_a_sheet_keeps_the_zone_of_its_first_day(tmp_path, settings):
    taken(write_csv(tmp_path / "b", {"tools": GOOD["tools"]}))
    assert Shop.objects.get().time_zone == settings.TIME_ZONE


def test_another_app_adds_a_sheet(tmp_path, monkeypatch):
    monkeypatch.setattr(registry, "_further", [])
    seen = []
    sheet = Sheet(
        "gauges", (Column("code", needed=True),), lambda rows, load: seen.extend(row.values for row in rows),
        lambda load: len(seen), lambda: iter([{"code": "B-8"}]),
    )  # fmt: skip
    try:
        registry.register(sheet)
        names = [one.name for one in registry.sheets()]
        assert names.index("gauges") == names.index("tools") + 1
        assert taken(write_csv(tmp_path / "b", {"gauges": [{"code": "B-8"}]}))["written"] == {"gauges": 1}
        call_command("export_shop", str(tmp_path / "out"), stdout=StringIO())
        assert (tmp_path / "out" / "gauges.csv").read_text().splitlines() == ["code", "B-8"]
    finally:
        registry.sheets.cache_clear()


def test_places_and_tools_may_name_later_rows(tmp_path):
    sheets = {
        "places": [{"code": "A", "name": "Rack", "parent": "ROOM"}, {"code": "ROOM", "name": "Room"}],
        "tools": [
            {"code": "M1", "kind": "mold", "name": "Deck", "made_from": "old plug", "place": "room"},
            {"code": "P1", "kind": "plug", "name": "Plug", "aliases": "old  plug", "in_making": "yes"},
        ],
    }
    assert taken(write_csv(tmp_path / "b", sheets))["errors"] == []
    assert Place.objects.get(code="A").parent.code == "ROOM"
    mold = Tool.objects.get(code="M1")
    assert (mold.made_from.code, mold.summary.home.code) == ("P1", "ROOM")
    assert Tool.objects.called("OLD PLUG").get().summary.making


def test_a_break_in_that_nobody_asked_for_is_noted(tmp_path):
    rows = [
        {"code": family[0], "name": family, "family": family} for family in ("Paste wax", "semi_permanent", "other")
    ]
    path = write_csv(tmp_path / "b", {"release_systems": rows})
    assert [(note["row"], note["column"]) for note in taken(path, "--dry-run")["notes"]] == [
        (3, "break_in"),
        (4, "break_in"),
    ]
    said = printed(path).splitlines()
    assert said[1].startswith("Note: release_systems, row 3, break_in: There is no column break_in, so it is 1,1,1:")
    assert len(said) == 3
    assert taken(path)["notes"] == []
    other = write_csv(tmp_path / "o", {"release_systems": [{**rows[1], "code": "T", "break_in": None}]})
    assert taken(other)["notes"] == []


def test_a_row_that_ends_early_is_empty_behind(tmp_path):
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "release_systems.csv").write_text("code,name,family,break_in\nS,Semi,semi_permanent\n")
    assert taken(tmp_path / "b")["notes"] == []
    assert RecipeVersion.objects.get().break_in == ""


def test_formal_records_hold_since_they_were_on_there_or_since_the_import(tmp_path):
    taken(
        write_csv(
            tmp_path / "b", {"shop": [{**SHOP, "formal_records": "yes", "formal_since": "2026-03-02T08:00+01:00"}]}
        )
    )
    assert f"{Shop.current().formal_since:%d %H:%M}" == "02 07:00"
    Shop.objects.all().delete()
    taken(write_csv(tmp_path / "c", {**GOOD, "shop": [{**SHOP, "formal_records": "yes"}]}))
    assert Shop.current().formal_since > Entry.objects.get().at
