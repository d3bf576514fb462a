"""The form to fill in goes into an empty shop as it is; what is taken along goes into another one."""

from io import BytesIO

import openpyxl
import pytest

from tests.tooling.moving_in.uploads import bring_in, run, take_up
from tests.tooling.sheets.books import taken
from tooling.models import Tool
from tooling.services.moving_in.examples import examples_of
from tooling.services.moving_in.template import template, to_fill_in

pytestmark = [pytest.mark.django_db, pytest.mark.both]


def test_every_sheet_has_a_filled_row_and_the_words_stand_beside(tmp_path):
    made = openpyxl.load_workbook(BytesIO(template()))
    assert made.sheetnames == [*(sheet.name for sheet in to_fill_in()), "words"]
    for sheet in to_fill_in():
        assert examples_of(sheet.name)
        header, *rows = made[sheet.name].iter_rows(values_only=True)
        assert len(rows) == len(examples_of(sheet.name))
        for column in sheet.columns:
            assert not column.needed or rows[0][header.index(column.name)] is not None
    words = {row[:2]: row[2] for row in made["words"].iter_rows(values_only=True)}
    assert words["tools", "kind"] == "plug, mold, insert, trim_mask"
    assert "starting_state" in words["history", "entry"]
    assert all(words[sheet.name, None] for sheet in to_fill_in())
    assert words["mask_features", None].startswith("The cuts of each trim mask in cutting order")


def test_it_goes_in_as_it_is_by_the_command(tmp_path):
    path = tmp_path / "form.xlsx"
    path.write_bytes(template())
    report = taken(path)
    assert report["errors"] == []
    assert set(report["written"]) == {sheet.name for sheet in to_fill_in()}
    assert all(report["written"].values())


def test_it_goes_in_as_it_is_on_the_screen(lead):
    moving = run(take_up(lead, ("moving-in.xlsx", template())), lead)
    assert moving.report["wrong_rows"] == 0
    bring_in(moving, lead)
    kinds = {"DECK-2A": "mold", "DECK-2-PLUG": "plug", "DECK-2-TRIM": "trim_mask"}
    assert dict(Tool.objects.values_list("code", "kind")) == kinds
