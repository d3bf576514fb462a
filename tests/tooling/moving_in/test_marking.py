"""The workbook to be mended: the shop's own, with what to change beside what is wrong."""

from datetime import date
from io import BytesIO

import openpyxl
import pytest
from openpyxl.styles import Font, PatternFill

from tests.tooling.moving_in.uploads import agree, book, run, take_up, uploaded
from tooling.services.moving_in import files, marking

pytestmark = pytest.mark.django_db

ROWS = [["code", "kind", "name", "mass_kg", "built_on"],
        ["M-1", "mold", "=UPPER(\"one\")", "heavy", date(2026, 3, 1)],
        ["M-2", "mold", "-two", 12, date(2026, 3, 1)]]  # fmt: skip


def own_book() -> bytes:
    made = openpyxl.load_workbook(BytesIO(book(tools=ROWS, notes=[["mine"]])))
    made["tools"]["A1"].font = Font(bold=True)
    made["tools"]["E2"].number_format = "DD.MM.YYYY"
    made["tools"]["C3"].fill = PatternFill("solid", fgColor="FF00FF00")
    held = BytesIO()
    made.save(held)
    return held.getvalue()


def marked(moving):
    return openpyxl.load_workbook(files.marked_up(moving))


def test_cells_stay_and_the_wrong_ones_say_what_to_change(lead):
    moving = run(take_up(lead, ("x.xlsx", own_book())), lead)
    made = marked(moving)
    sheet = made["tools"]
    assert made.sheetnames == ["tools", "notes"]
    assert sheet["C2"].value == '=UPPER("one")'
    assert sheet["A1"].font.bold
    assert sheet["E2"].number_format == "DD.MM.YYYY"
    assert sheet["C3"].fill.fgColor.rgb == "FF00FF00"
    assert sheet["D2"].comment.text == "“heavy” is no number."
    assert sheet["D2"].fill.fgColor.rgb == "FFFFD966"
    assert sheet["F1"].value == "what to change"
    assert "mass_kg: “heavy” is no number." in sheet["F2"].value
    assert sheet["F3"].value is None
    assert sheet["D3"].comment is None


def test_mended_in_it_and_uploaded_again_it_is_right(lead):
    moving = run(take_up(lead, ("x.xlsx", own_book())), lead)
    made = marked(moving)
    made["tools"]["D2"], made["tools"]["C2"], made["tools"]["A3"] = 30, "One", "M 2"
    held = BytesIO()
    made.save(held)
    files.take_up_again(moving, [uploaded("x.xlsx", held.getvalue())], at=moving.added_at)
    assert not files.marked_up(moving).exists()
    moving = run(moving, lead)
    assert [(one["row"], one["column"]) for one in moving.report["errors"]] == [(3, "code")]
    sheet = marked(moving)["tools"]
    # what was mended looks wrong no more
    assert sheet["D2"].comment is None
    assert sheet["D2"].fill.fill_type is None
    assert [cell.value for cell in sheet["F"]][:2] == ["what to change", None]
    assert "Try M-2." in sheet["F3"].value
    assert sheet.max_column == 6


@pytest.mark.parametrize("most", [marking._MOST_WHOLE, 0])
def test_a_large_one_is_written_anew_from_its_values(lead, monkeypatch, most):
    monkeypatch.setattr(marking, "_MOST_WHOLE", most)
    moving = run(take_up(lead, ("x.xlsx", own_book())), lead)
    sheet = marked(moving)["tools"]
    assert sheet["D2"].comment.text == "“heavy” is no number."
    assert "mass_kg" in sheet["F2"].value
    assert sheet["C3"].value == "-two"


def test_a_table_becomes_a_workbook(lead):
    moving = take_up(lead, ("tools.csv", "code;kind;name\n=1+1;mold;One\nM-2;mold;Two\n"))
    moving = run(moving, lead)
    sheet = marked(moving)["tools"]
    assert sheet["A2"].value == "=1+1"
    assert sheet["A2"].data_type == "s"
    assert sheet["A2"].comment is not None
    assert [cell.value for cell in sheet[3]][:3] == ["M-2", "mold", "Two"]


def test_a_right_one_has_none(lead):
    moving = take_up(lead, ("tools.csv", "code;kind;name\nM-2;mold;Two\n"))
    agree(moving)
    assert not files.marked_up(run(moving, lead)).exists()


def test_one_that_is_only_readable_is_written_anew(lead, monkeypatch):
    whole, given = openpyxl.load_workbook, own_book()

    def only_readable(path, **how):
        if not how:
            raise KeyError("a part that nobody knows")
        return whole(path, **how)

    monkeypatch.setattr(openpyxl, "load_workbook", only_readable)
    moving = run(take_up(lead, ("x.xlsx", given)), lead)
    assert moving.job.state == "done"
    monkeypatch.setattr(openpyxl, "load_workbook", whole)
    assert marked(moving)["tools"]["D2"].comment.text == "“heavy” is no number."
