"""What is no workbook and no table is refused with a sentence, and nothing of it is kept."""

import zipfile
from io import BytesIO

import pytest
from django.conf import settings

from shared import clock
from shared.errors import Refused
from tests.tooling.moving_in.uploads import agree, book, matched, run, take_up, uploaded
from tooling.models import MovingIn, Tool
from tooling.services.moving_in import files

pytestmark = pytest.mark.django_db

OLD = bytes.fromhex("d0cf11e0a1b11ae1") + b"\0" * 600


def packed(**content) -> bytes:
    held = BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in content.items():
            archive.writestr(name.replace("__", "."), text)
    return held.getvalue()


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("list.xls", OLD, "an old .xls workbook, or one with a password"),
        ("list.xlsx", OLD, "an old .xls workbook, or one with a password"),
        ("list.xlsx", packed(mimetype="application/vnd.oasis.opendocument.spreadsheet"), "an OpenDocument file"),
        ("list.xlsx", book(Molds=[["code"]])[:300], "cut short or damaged"),
        ("list.xlsx", b"PK\x03\x04 and no more", "cut short or damaged"),
        ("list.zip", packed(readme__md="hello"), "no workbook, and no ZIP"),
        ("list.csv", b"", "is empty"),
        ("list.pdf", b"%PDF-1.7", "neither an .xlsx workbook nor a .csv"),
        ("list.doc", b"hello", "neither an .xlsx workbook nor a .csv"),
    ],
)
def test_it_is_refused_and_nothing_stays(lead, name, content, said):
    with pytest.raises(Refused, match=said):
        take_up(lead, (name, content))
    assert not MovingIn.objects.exists()
    assert not list((settings.DATA_DIR / "moving").glob("*/sheets"))


def test_too_much_is_not_even_kept(lead, monkeypatch):
    monkeypatch.setattr(files, "MOST_BYTES", 1 << 20)
    with pytest.raises(Refused, match="larger than 1 MB"):
        take_up(lead, ("list.csv", b"x" * (2 << 20)))
    with pytest.raises(Refused, match="of together 1 MB at most"):
        take_up(lead, ("list.zip", packed(tools__csv="x" * (2 << 20))))


def test_a_workbook_beside_others(lead):
    with pytest.raises(Refused, match="not one beside others"):
        take_up(lead, ("tools.csv", "code"), ("list.xlsx", book(Molds=[["code"]])))


def test_a_name_leads_nowhere_else(lead):
    moving = take_up(lead, ("..\\..\\secret/tools.csv", "code,kind,name\nM-1,mold,One\n"))
    assert [path.name for path in files.sheets_folder(moving).iterdir()] == ["tools.csv"]


def test_a_sheet_that_breaks_off_says_so_when_it_is_tried(lead):
    whole = BytesIO(book(tools=[["code", "kind", "name"], ["M-1", "mold", "One"]]))
    held = BytesIO()
    with zipfile.ZipFile(whole) as old, zipfile.ZipFile(held, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name)[: -60 if "worksheets" in name else None])
    moving = take_up(lead, ("list.xlsx", held.getvalue()))
    run(moving, lead)
    assert moving.job.state == "failed"
    assert "no workbook that can be read" in moving.job.words
    assert files.sheets_folder(moving).is_dir()


@pytest.mark.parametrize("rows", [[], [["", ""]], [["code", "kind", "name"]]])
def test_nothing_in_it(lead, rows):
    moving = take_up(lead, ("list.xlsx", book(tools=rows)))
    agree(moving)
    run(moving, lead)
    assert moving.job.state == "failed"
    assert not Tool.objects.exists()


def test_another_program_s_workbook_is_matched_to_nothing(lead):
    moving = take_up(lead, ("x.xlsx", book(Invoices=[["Customer", "Sum"], ["Yard", 12]])))
    agree(moving)
    assert "None of these sheets is one of ours" in run(moving, lead).job.words


def test_a_formula_that_was_never_worked_out_is_a_bad_cell(lead):
    rows = [["code", "kind", "name", "mass_kg"], ["M-1", "mold", "One", "=19*2"]]
    moving = take_up(lead, ("x.xlsx", book(tools=rows)))
    (one,) = run(moving, lead).report["errors"]
    assert (one["column"], one["row"]) == ("mass_kg", 2)
    assert "never worked out" in one["messages"][0]


def test_a_mended_file_that_cannot_be_read_leaves_the_one_before(lead):
    moving = take_up(lead, ("tools.csv", "code,kind,name\nM-1,mold,One\n"))
    run(moving, lead)
    with pytest.raises(Refused):
        files.take_up_again(moving, [uploaded("x.xls", OLD)], at=moving.added_at)
    moving.refresh_from_db()
    assert (moving.name, moving.report["rows"]) == ("tools.csv", 1)
    assert matched(moving)[0].sheet == "tools"


def test_a_dropped_one_is_gone_and_its_columns_are_remembered(lead):
    first = take_up(lead, ("list.csv", "Tag;Type;name\nM-1;mold;One\n"))
    agree(first)
    folder = files.folder_of(first)
    files.drop(first, at=clock.now())
    assert not folder.exists()
    (again,) = matched(take_up(lead, ("list.csv", "Tag;Type;name\nM-1;mold;One\n")))
    assert again.is_settled
    assert again.columns == {"tag": "code", "type": "kind", "name": "name"}


def test_signs_that_no_database_keeps(lead):
    rows = [["code", "kind", "name", "a_x0000_b_xD800_c"], ["M-1", "_x0000_mo_xD800_", "One", "x"]]
    moving = take_up(lead, ("list.xlsx", book(Molds=rows)))
    agree(moving)
    moving = run(moving, lead)
    assert moving.job.state == "done"
    assert [one["cell"] for one in moving.report["errors"]] == ["mo?"]


def test_a_very_long_name(lead):
    moving = take_up(lead, (f"{'ü' * 200}.csv", "code,kind,name\nM-1,mold,One\n"))
    assert moving.name.endswith(".csv")
    assert matched(moving)[0].sheet == "tools"
