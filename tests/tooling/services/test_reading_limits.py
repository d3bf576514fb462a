"""Limits of readings: what is kept, what is refused, out of a sheet and in again."""

from decimal import Decimal

import pytest

from shared.errors import Refused
from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tooling.models import ReadingLimit, ToolAlias
from tooling.services.reading_limits import set_limit, take_out
from tooling.services.sheets.reading_limits import SHEET
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
GLOSS = {"quantity": "gloss", "unit": "GU", "geometry": "60°", "limit": Decimal(70), "worse": "down", "kind": "mold"}
ROW = {"kind": "mold", "quantity": "gloss", "unit": "GU", "geometry": "60°", "limit": "70", "worse": "down"}


@pytest.fixture
def deck():
    tool = add_tool(code="DECK", name="Deck", kind="mold")
    ToolAlias.objects.create(tool=tool, code="OLD")
    return tool


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"quantity": " "}, "quantity"),
        ({"unit": ""}, "unit"),
        ({"kind": ""}, "kind"),
        ({"worse": ""}, "worse"),
        ({"limit": Decimal("NaN")}, "limit"),
        ({"limit": Decimal(10) ** 12}, "limit"),
        ({"note": "x" * 201}, "note"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(said, field):
    with pytest.raises(Refused) as refused:
        set_limit(**{**GLOSS, **said})
    assert refused.value.field == field
    assert not ReadingLimit.objects.exists()


def test_one_limit_of_a_thing_whichever_way_it_is_written(deck):
    row = set_limit(**GLOSS)
    with pytest.raises(Refused, match="There is a limit of this already"):
        set_limit(**{**GLOSS, "quantity": "GLOSS", "geometry": " 60°"})
    own = set_limit(**{**GLOSS, "kind": "", "tool": deck, "limit": Decimal(60)})
    assert (own.kind, own.tool) == ("mold", deck)
    assert set_limit(**{**GLOSS, "limit": Decimal(72), "row": row}).pk == row.pk
    take_out(row)
    with pytest.raises(Refused, match="took this limit out meanwhile"):
        set_limit(**GLOSS, row=row)
    assert [one.limit for one in ReadingLimit.objects.all()] == [60]


def test_out_of_a_sheet_and_in_again(tmp_path, deck):
    set_limit(**GLOSS, note="dull below it")
    set_limit(**{**GLOSS, "tool": deck, "limit": Decimal("0.25"), "unit": "mm", "quantity": "depth", "worse": "up"})
    before = list(SHEET.give())
    cells = [{k: str(v) for k, v in row.items() if v is not None} for row in before]
    path = write_csv(tmp_path / "out", {"reading_limits": cells})
    assert taken(path)["written"] == {"reading_limits": 0}
    ReadingLimit.objects.all().delete()
    assert taken(path)["written"] == {"reading_limits": 2}
    assert list(SHEET.give()) == before


def test_what_cannot_be_is_named_by_row_and_column(tmp_path, deck):
    set_limit(**GLOSS)
    rows = (
        {**ROW, "limit": "71"}, {**ROW, "tool": "NONE"}, {**ROW, "tool": "OLD", "kind": "plug"},
        {**ROW, "geometry": "20°"}, {**ROW, "geometry": "20°", "quantity": "Gloss"}, {**ROW, "worse": "left"},
        {**ROW, "tool": "OLD"}, {**ROW, "tool": "DECK"}, {**ROW, "unit": ""},
    )  # fmt: skip
    wanted = [
        (2, "quantity"), (3, "tool"), (4, "kind"), (6, "quantity"), (7, "worse"), (9, "quantity"), (10, "unit"),
    ]  # fmt: skip
    path = write_csv(tmp_path / "b", {"reading_limits": list(rows)})
    assert cells_at_fault(path) == [("reading_limits", *cell) for cell in wanted]
    assert ReadingLimit.objects.count() == 1
