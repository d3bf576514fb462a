"""Years that nobody can have meant: refused wherever a time stands, so that what is stored always comes out again."""

from io import StringIO

import pytest
from django.core.management import call_command

from tests.tooling.sheets.books import cells_at_fault, content, taken, write_csv
from tests.tooling.sheets.shops import make_empty
from tooling.services.sheets.exporting import export_shop

pytestmark = pytest.mark.django_db

MOLD = {"code": "M1", "kind": "mold", "name": "Deck"}
OLD, LATE, NEVER = "1950-01-01T00:00Z", "2199-12-31T23:59:59Z", "9999-12-31T23:30Z"


@pytest.mark.parametrize("zone", ["UTC", "Europe/Oslo", "America/New_York"])
def test_a_year_that_cannot_be_meant_is_refused_wherever_a_time_stands(tmp_path, zone):
    said = {"tool": "M1", "at": "2026-03-02", "entry": "note"}
    history = [
        {**said, "at": "0001-01-01T00:30Z"}, {**said, "at": NEVER}, {**said, "entry": "lay_up", "earliest_pull": NEVER},
        {**said, "entry": "lent", "person": "Yard", "until": "9999-12-31"}, {**said, "recorded_at": "1066-10-14"},
    ]  # fmt: skip
    recipes = [{"code": "W", "name": "Wax", "family": "other", "valid_from": when} for when in (None, NEVER)]
    tools = [{**MOLD, "release_system": "W"}, {**MOLD, "code": "M2", "built_on": "0001-01-01"}]
    shop = [{"time_zone": zone}]
    sheets = {"shop": shop, "release_systems": recipes, "tools": tools, "history": history}
    assert cells_at_fault(write_csv(tmp_path / "b", sheets)) == [
        ("release_systems", 3, "valid_from"), ("tools", 3, "built_on"), ("history", 2, "at"), ("history", 3, "at"),
        ("history", 4, "earliest_pull"), ("history", 5, "until"), ("history", 6, "recorded_at"),
    ]  # fmt: skip


@pytest.mark.parametrize("zone", ["UTC", "Europe/Oslo", "America/New_York"])
def test_the_first_and_the_last_time_go_in_and_out_and_in_again(tmp_path, zone, client, lead):
    rows = [{"tool": "M1", "at": OLD, "entry": "pull"}, {"tool": "M1", "at": OLD, "entry": "lay_up"}]
    rows[1]["earliest_pull"] = LATE
    recipes = [{"code": "W", "name": "Wax", "family": "other", "valid_from": when} for when in (None, LATE)]
    sheets = {"shop": [{"time_zone": zone}], "release_systems": recipes, "tools": [{**MOLD, "release_system": "W"}]}
    assert taken(write_csv(tmp_path / "b", {**sheets, "history": rows}))["errors"] == []
    client.force_login(lead)
    for address in ("/", "/tools/", "/tools/M1/", "/recipes/W/"):
        assert client.get(address).status_code == 200
    call_command("release_status", "--at", LATE, stdout=StringIO())
    call_command("check_history", stdout=StringIO())
    export_shop(tmp_path / "out.xlsx")
    make_empty()
    assert taken(tmp_path / "out.xlsx")["errors"] == []
    export_shop(tmp_path / "again.xlsx")
    assert content(tmp_path / "out.xlsx") == content(tmp_path / "again.xlsx")
