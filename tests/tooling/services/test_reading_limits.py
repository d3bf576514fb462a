"""Limits of readings: what is kept, what is refused, out of a sheet and in again."""

from datetime import timedelta
from decimal import Decimal

import pytest

from shared.errors import Refused
from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tests.tooling.views.works import NOW
from tooling.models import Person, ReadingLimit, ToolAlias
from tooling.selectors.reading_limits import limits, limits_for
from tooling.services.reading_limits import put_back, set_limit, take_out
from tooling.services.sheets.reading_limits import SHEET
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)
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
    changed = set_limit(**{**GLOSS, "limit": Decimal(72), "row": row}, at=NOW)
    with pytest.raises(Refused, match="changed this limit or took it out meanwhile"):
        set_limit(**GLOSS, row=row, at=NOW)
    assert set_limit(**{**GLOSS, "limit": Decimal(72), "row": changed}, at=NOW) == changed
    take_out(changed, by=None, at=NOW + HOUR)
    assert [one.limit for one in ReadingLimit.objects.standing()] == [60]


def test_what_held_a_day_is_kept(deck):
    """A question about yesterday goes by the limit of yesterday."""
    mara = Person.objects.create_person("Mara", "lead")
    row = set_limit(**GLOSS, by=mara, at=NOW)
    row = set_limit(**{**GLOSS, "limit": Decimal(60)}, row=row, by=mara, at=NOW + HOUR)
    take_out(row, by=mara, at=NOW + 2 * HOUR)
    held = [limits_for([deck], NOW + hours * HOUR)[deck.pk] for hours in (-1, 0, 1, 2)]
    assert [[limit.value for limit in one.values()] for one in held] == [[], [70], [60], []]
    put_back(row, by=mara, at=NOW + 2 * HOUR + timedelta(minutes=5))
    assert ReadingLimit.objects.standing().get() == row
    take_out(row, by=mara, at=NOW + 3 * HOUR)
    put_back(row, by=mara, at=NOW + 4 * HOUR)
    with pytest.raises(Refused, match="There is a limit of this already"):
        put_back(row, by=mara, at=NOW + 5 * HOUR)
    assert [(one.limit, one.since, one.until) for one in limits()] == [
        (70, NOW, NOW + HOUR), (60, NOW + HOUR, NOW + 3 * HOUR), (60, NOW + 4 * HOUR, None),
    ]  # fmt: skip


def test_out_of_a_sheet_and_in_again(tmp_path, deck):
    set_limit(**GLOSS, note="dull below it")
    depth = {**GLOSS, "tool": deck, "limit": Decimal("0.25"), "unit": "mm", "quantity": "depth", "worse": "up"}
    row = set_limit(**depth, by=Person.objects.create_person("Mara", "lead"), at=NOW)
    set_limit(**{**depth, "limit": Decimal("0.3")}, row=row, at=NOW + HOUR)
    before = list(SHEET.give())
    cells = [{k: str(v) for k, v in row.items() if v is not None} for row in before]
    path = write_csv(tmp_path / "out", {"reading_limits": cells})
    assert taken(path)["written"] == {"reading_limits": 0}
    ReadingLimit.objects.all().delete()
    assert taken(path)["written"] == {"reading_limits": 3}
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


def test_two_limits_of_one_thing_never_meet(tmp_path, deck):
    row = set_limit(**GLOSS, at=NOW)
    take_out(row, by=None, at=NOW + HOUR)
    rows = (
        {**ROW, "until": "2026-05-12 06:50"}, {**ROW, "until": "2026-05-12 06:40"},
        {**ROW, "until": "2026-05-12 06:30"},
        {**ROW, "since": "2026-05-12 07:40"}, {**ROW, "since": "2026-05-12 07:40", "until": "2026-05-12 07:30"},
        {**ROW, "since": "2999-01-01 08:40"}, {**ROW, "ended_by": "Mara"},
    )  # fmt: skip
    wanted = [(2, "quantity"), (4, "quantity"), (6, "until"), (7, "since"), (8, "ended_by")]
    path = write_csv(tmp_path / "b", {"reading_limits": list(rows)})
    assert cells_at_fault(path) == [("reading_limits", *cell) for cell in wanted]
