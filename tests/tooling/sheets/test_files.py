"""Files that cannot be read are said in one line, and what a workbook hides is not taken for nothing."""

import json
import zipfile
from io import StringIO

import openpyxl
import pytest
from django.core.management import CommandError, call_command

from tests.tooling.sheets.books import cells_at_fault, taken, write_csv, write_xlsx
from tooling.models import Place
from tooling.services.sheets import unpacked

pytestmark = pytest.mark.django_db

PLACES = {"places": [{"code": "A", "name": "Rack"}]}


def said(path):
    """The one line that the command ends with; stdout stays empty."""
    out = StringIO()
    with pytest.raises(CommandError) as refused:
        call_command("import_shop", str(path), stdout=out)
    assert out.getvalue() == ""
    assert "\n" not in str(refused.value)
    return str(refused.value)


def repacked(path, name, change):
    """The same workbook with one of its files changed."""
    with zipfile.ZipFile(path) as old:
        files = {info.filename: old.read(info) for info in old.infolist()}
    files[name] = change(files[name])
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for one, content in files.items():
            new.writestr(one, content)
    return path


SHEET = "xl/worksheets/sheet1.xml"


def test_nothing_there(tmp_path):
    assert said(tmp_path / "none.xlsx").startswith("There is no ")
    assert "no .csv in the folder" in said(tmp_path)


@pytest.mark.parametrize("name", ["shop.xls", "shop.csv", "shop"])
def test_neither_a_workbook_nor_a_folder(tmp_path, name):
    (tmp_path / name).write_text("code,name\n")
    assert "is neither an .xlsx workbook nor a folder" in said(tmp_path / name)


@pytest.mark.parametrize("content", [b"", b"code,name\n", b"PK\x03\x04 and no more", bytes.fromhex("d0cf11e0a1b11ae1")])
def test_no_workbook(tmp_path, content):
    (tmp_path / "b.xlsx").write_bytes(content)
    assert said(tmp_path / "b.xlsx").startswith("b.xlsx is no workbook that can be read.")


def test_any_other_archive_is_no_workbook(tmp_path):
    with zipfile.ZipFile(tmp_path / "b.xlsx", "w") as packed:
        packed.writestr("hello.txt", "hello")
    assert said(tmp_path / "b.xlsx").startswith("b.xlsx is no workbook that can be read.")


def test_a_sheet_cut_off_in_the_middle(tmp_path):
    path = repacked(write_xlsx(tmp_path / "b.xlsx", PLACES), SHEET, lambda xml: xml[:-60])
    assert said(path).startswith("b.xlsx is no workbook that can be read.")


def test_entities_are_not_unfolded(tmp_path):
    assert openpyxl.DEFUSEDXML
    bomb = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>'
    path = repacked(write_xlsx(tmp_path / "b.xlsx", PLACES), SHEET, lambda xml: bomb + xml.replace(b">Rack<", b">&b;<"))
    assert said(path).startswith("b.xlsx is no workbook that can be read.")


def test_what_unpacks_into_far_more_is_not_unpacked(tmp_path):
    path = write_xlsx(tmp_path / "b.xlsx", PLACES)
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet2.xml", b"0" * (unpacked._SMALL + 1))
    assert "would unpack into far more" in said(path)


@pytest.mark.parametrize("limit", ["_MOST", "_MOST_TEXTS", "_MOST_OTHER", "_MOST_FILES"])
def test_each_limit_of_size(tmp_path, monkeypatch, limit):
    path = write_xlsx(tmp_path / "b.xlsx", PLACES)
    with zipfile.ZipFile(path, "a") as packed:
        packed.writestr("xl/sharedStrings.xml", "<sst/>")
    assert cells_at_fault(path) == []
    monkeypatch.setattr(unpacked, limit, 5)
    assert "would unpack into far more" in said(path)


def test_a_row_far_below_the_last_one_that_there_can_be(tmp_path):
    path = write_xlsx(tmp_path / "b.xlsx", PLACES)
    repacked(
        path, SHEET, lambda xml: xml.replace(b'<row r="2">', b'<row r="99999999">').replace(b'"A2"', b'"A99999999"')
    )
    assert "larger than a spreadsheet can be" in said(path)


def test_a_wrong_size_of_the_sheet_hides_no_row(tmp_path):
    path = write_xlsx(tmp_path / "b.xlsx", PLACES)
    assert taken(repacked(path, SHEET, lambda xml: xml.replace(b'ref="A1:B2"', b'ref="A1"')))["read"] == {"places": 1}


def test_a_table_that_is_not_in_utf_8(tmp_path):
    folder = write_csv(tmp_path / "b", {"places": [{"code": "A", "name": "Blå"}]}, encoding="cp1252")
    assert said(folder) == "places.csv is not in UTF-8. Save it as “CSV UTF-8”."


def test_a_quotation_mark_that_is_never_closed_hides_no_row(tmp_path):
    folder = write_csv(tmp_path / "b", PLACES)
    (folder / "places.csv").write_text('code,name\nA,"Rack\nB,Shelf\n')
    assert said(folder).startswith("places.csv is no table: ")


def test_other_files_of_the_folder_are_left_alone(tmp_path):
    folder = write_csv(tmp_path / "b", PLACES)
    (folder / "readme.txt").write_text("x")
    (folder / "._places.csv").write_bytes(b"\xff\xfe")
    assert taken(folder)["read"] == {"places": 1}


def test_an_empty_sheet_says_nothing(tmp_path):
    folder = write_csv(tmp_path / "b", PLACES)
    (folder / "tools.csv").write_text("\n\n")
    assert taken(folder) == {
        "read": {"places": 1, "tools": 0},
        "written": {"places": 1, "tools": 0},
        "errors": [],
        "notes": [],
    }


def test_a_formula_is_taken_by_the_value_that_it_shows(tmp_path):
    path = write_xlsx(tmp_path / "b.xlsx", {"places": [{"code": "A", "name": '=UPPER("rack")', "height_mm": "=1+1"}]})
    assert cells_at_fault(path) == [("places", 2, "name")]  # it was never worked out
    repacked(
        path, SHEET, lambda xml: xml.replace(b"</f><v></v>", b"</f><v>2</v>").replace(b"</f><v />", b"</f><v>2</v>")
    )
    assert taken(path)["errors"] == []
    assert Place.objects.values_list("name", "height_mm").get() == ("2", 2)


def test_a_cell_that_shows_an_error_is_refused(tmp_path):
    path = write_xlsx(tmp_path / "b.xlsx", {"places": [{"code": "A", "name": "#N/A"}]})
    [error] = taken(path)["errors"]
    assert (error["column"], error["message"]) == ("name", "The cell shows the error #N/A.")


def test_a_file_that_cannot_be_read_is_one_json_document_as_well(tmp_path):
    out = StringIO()
    with pytest.raises(CommandError):
        call_command("import_shop", str(tmp_path / "none.xlsx"), "--format", "json", stdout=out)
    document = json.loads(out.getvalue())
    assert document["read"] == document["written"] == {}
    assert [error["row"] for error in document["errors"]] == [1]
