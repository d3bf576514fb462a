"""Out, into an empty shop, and out again: the same sheets, the same answers, an unbroken chain."""

import json
from dataclasses import replace
from io import StringIO

import openpyxl
import pytest
from django.core.management import CommandError, call_command

from tests.tooling.sheets.books import content, taken
from tests.tooling.sheets.shops import HOSTILE, make_empty, make_shop
from tooling.calc.entry import OTHER_KINDS, RELEASE_KINDS
from tooling.models import Entry, LeadNote, PartRevision, Person, Shop, Summary, Tool
from tooling.services import deeds
from tooling.services.drafts import IN_PAYLOAD
from tooling.services.sheets.escapes import from_xml
from tooling.services.sheets.history import SHEET as HISTORY
from tooling.services.sheets.registry import sheets

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop():
    make_shop()


def export(path):
    call_command("export_shop", str(path), stdout=StringIO())
    return path


def files(folder):
    return {file.name: file.read_bytes() for file in folder.iterdir()}


# While it can be worked out when the part could be laid up, while its mold is lent, and behind all that happened.
MOMENTS = ("2026-01-05T16:30", "2026-01-06T20:30", "2026-12-01T09:00")


def answers():
    """The status of every tool, and the tool set of every revision as of some moments."""
    revisions = PartRevision.objects.select_related("part").order_by("part", "revision")
    which = ((one.part.number, "--revision", one.revision, "--at", at) for one in revisions for at in MOMENTS)
    return [_answer("release_status"), *(_answer("tool_set", *words) for words in which)]


def _answer(*words):
    said = StringIO()
    call_command(*words, "--format", "json", stdout=said)
    return json.loads(said.getvalue())


def facts():
    """What is stored of each entry, but for the keys of other rows."""
    columns = ("id", "number", "kind", "at", "recorded_at", "count", "area", "came_off", "film", "part", "serial",
               "release_system", "earliest_pull", "replaces_id", "voids_id", "tool__code", "mold__code", "by__name",
               "recorded_by__name")  # fmt: skip
    return list(Entry.objects.order_by("id").values_list(*columns))


def payloads():
    keys = ("place", "surface")
    return [
        {name: value for name, value in payload.items() if name not in keys}
        for payload in Entry.objects.order_by("id").values_list("payload", flat=True)
    ]


def test_the_shop_has_everything_that_an_entry_can_say(shop):
    said = {name for payload in Entry.objects.values_list("payload", flat=True) for name in payload}
    assert IN_PAYLOAD - said == {"pulls_since_coat", "touch_ups", "tool_damaged"}
    assert {column.name for column in HISTORY.columns} >= IN_PAYLOAD
    kinds = set(Entry.objects.values_list("kind", flat=True))
    assert kinds >= (RELEASE_KINDS | OTHER_KINDS)


def test_tables_come_back_byte_by_byte(shop, tmp_path):
    first = export(tmp_path / "first")
    before = facts(), payloads(), answers()
    assert any(one["lay_up_from"] for one in before[2][1:])
    make_empty()
    report = taken(first)
    assert report["errors"] == []
    assert report["read"] == report["written"]
    assert files(export(tmp_path / "second")) == files(first)
    assert (facts(), payloads(), answers()) == before
    seen = LeadNote.objects.values_list("entry__payload__note", "seen_by__name")
    assert set(seen) == {("seen!", "Ole"), ("not seen yet!", None)}
    call_command("check_history", stdout=StringIO())


def test_a_workbook_comes_back_equal(shop, tmp_path):
    first = export(tmp_path / "first.xlsx")
    before = facts(), payloads(), answers()
    make_empty()
    assert taken(first)["errors"] == []
    second = export(tmp_path / "second.xlsx")
    assert content(second) == content(first)
    assert second.read_bytes() == first.read_bytes()
    assert (facts(), payloads(), answers()) == before


def test_both_formats_say_the_same(shop, tmp_path):
    book, tables = export(tmp_path / "shop.xlsx"), export(tmp_path / "tables")
    make_empty()
    taken(book)
    assert files(export(tmp_path / "again")) == files(tables)


def test_no_spreadsheet_runs_a_cell(shop, tmp_path):
    tables, book = export(tmp_path / "tables"), export(tmp_path / "shop.xlsx")
    text = (tables / "history.csv").read_text(encoding="utf-8")
    cells = [cell.strip('"') for line in text.splitlines() for cell in line.split(",")]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@", "\t") or (cell[:1] == "-" and cell != "-0.125")]
    kinds = {cell.data_type for page in openpyxl.load_workbook(book) for row in page.iter_rows() for cell in row}
    assert kinds <= {"s", "n"}
    header, *rows = content(book)["history"]
    notes = [from_xml(str(row[header.index("note")])) for row in rows]
    assert set(HOSTILE) - {"\rx", "a\nb\r\nc"} <= {note.replace("\r\n", "\n") for note in notes} | {*notes}


def test_hostile_cells_come_back_equal(shop, tmp_path):
    for path in (tmp_path / "tables", tmp_path / "shop.xlsx"):
        export(path)
        make_empty()
        taken(path)
        notes = [payload.get("note") for payload in payloads()]
        assert [note for note in notes if note in HOSTILE] == list(HOSTILE)


def test_the_next_entry_goes_on_behind_the_imported_ones(shop, tmp_path):
    path = export(tmp_path / "shop")
    last = Entry.objects.latest("id")
    make_empty()
    taken(path)
    mold = Tool.objects.get(code="520")
    entry = deeds.take_note(mold, note="first of the new house", by=None, recorded_by=None)
    assert entry.pk == last.pk + 1
    assert entry.number == Summary.objects.get(tool=mold).count
    call_command("check_history", stdout=StringIO())


def test_people_come_along_by_name_and_cannot_sign_in(shop, tmp_path):
    path = export(tmp_path / "shop")
    make_empty()
    taken(path)
    assert {person.name: person.can_sign_in for person in Person.objects.all()} == {"Mara Ø": False, "Ole": False}
    assert Shop.current().time_zone == "America/New_York"


def test_a_second_import_of_the_same_shop_is_harmless(shop, tmp_path):
    path = export(tmp_path / "shop")
    report = taken(path)
    assert report["errors"] == []
    assert set(report["written"].values()) == {0}


def test_what_is_written_over_is_replaced_whole(shop, tmp_path):
    path = export(tmp_path / "shop")
    once = files(path)
    (path / "places.csv").write_text("left over", encoding="utf-8")
    assert files(export(path)) == once


@pytest.mark.parametrize("name", ["out", "out.xlsx"])
def test_what_cannot_be_written_whole_leaves_the_old_one(shop, tmp_path, monkeypatch, name):
    path = export(tmp_path / name)
    once = files(path) if path.is_dir() else path.read_bytes()

    def breaks():
        yield {"tool": "520"}
        raise OSError(28, "No space left on device")

    broken = (*sheets()[:-2], replace(HISTORY, give=breaks))
    monkeypatch.setattr("tooling.services.sheets.exporting.sheets", lambda: broken)
    with pytest.raises(CommandError, match="cannot be written: No space left on device"):
        export(path)
    assert (files(path) if path.is_dir() else path.read_bytes()) == once
    assert [file.name for file in tmp_path.iterdir()] == [name]


def test_a_text_that_no_cell_of_a_workbook_holds(shop, tmp_path):
    deeds.take_note(Tool.objects.get(code="520"), note="x" * 32_768, by=None, recorded_by=None)
    with pytest.raises(CommandError, match="too long for a workbook"):
        export(tmp_path / "shop.xlsx")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", ["missing/shop.xlsx", "shop.csv", "shop.ods", "shop.pdf", "shop.xlsx.old"])
def test_a_path_that_cannot_be_written_is_said_in_a_line(db, tmp_path, name):
    with pytest.raises(CommandError, match=r"^There is no folder|^Name a file"):
        call_command("export_shop", str(tmp_path / name))
    assert not list(tmp_path.iterdir())
