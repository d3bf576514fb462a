"""What was typed in inches, pounds and °F goes out with the sheets and comes back as it was typed."""

from fractions import Fraction
from io import StringIO

import pytest
from django.core.management import call_command

from shared import clock
from shared.units import US, read, unit_of
from tests.tooling.sheets.books import cells_at_fault, taken, write_csv
from tests.tooling.sheets.shops import make_empty
from tests.tooling.views.works import open_shop
from tooling.models import PartRevision, Place, Tool
from tooling.services.catalogue import bring_in
from tooling.services.measures import keep
from tooling.services.parts import add_part
from tooling.words.measures import measure, to_type

pytestmark = pytest.mark.django_db
TOOL = {"code": "M1", "kind": "mold", "name": "Deck"}


def inches(text):
    return read(text, unit_of("mm", US))


def export(path):
    call_command("export_shop", str(path), stdout=StringIO())
    return path


@pytest.fixture
def shop(lead):
    open_shop()
    mass = read("12.123456 lb", unit_of("kg", US))
    typed = {"length_mm": inches("10 1/3"), "width_mm": inches("3.50"), "mass_kg": mass}
    bring_in(by=lead, at="2026-05-12T06:40Z", columns={**TOOL, **typed, "height_mm": inches("90 mm")})
    place = Place(code="B-1", name="Rack B")
    keep(place, "height_mm", inches("2/3"))
    place.save()
    said = {"name": "Deck", "cure_c": read("250", unit_of("°C", US))}
    add_part("SK-1", by=lead, at=clock.now(), columns=said)


def stands():
    rows = Tool.objects.get(), Place.objects.get(), PartRevision.objects.get()
    names = ("length_mm", "width_mm", "height_mm", "mass_kg"), ("height_mm",), ("cure_c",)
    return [to_type(row, name, US) for row, of_row in zip(rows, names, strict=True) for name in of_row]


@pytest.mark.parametrize("name", ["folder", "shop.xlsx"])
def test_it_comes_back_as_it_was_typed(shop, tmp_path, name):
    before = stands()
    assert before == ["10 1/3", "3.50", "3 9/16", "12.123456", "2/3", "250"]
    first = export(tmp_path / name)
    assert taken(first)["written"] == {**taken(first)["written"], "tools": 0}
    make_empty()
    assert taken(first)["errors"] == []
    assert stands() == before
    tool = Tool.objects.get()
    assert str(measure(tool.length_mm, "mm", US, tool.as_typed["length_mm"])) == "10 1/3 in"


def test_it_is_an_optional_column_in_words_of_the_sheet(shop, tmp_path):
    lines = (export(tmp_path / "out") / "tools.csv").read_text().splitlines()
    assert lines[0].endswith(",as_typed")
    assert "length_mm: 10 1/3 in; mass_kg: 12.123456 lb; width_mm: 3.50 in" in lines[1]
    # the same tool without the column, or with another in it, is the same tool
    for said in ({}, {"as_typed": "width_mm: 3 1/2 in"}):
        row = {**TOOL, "length_mm": "262.466667", "width_mm": "88.9", "height_mm": 90, "mass_kg": "5.499107", **said}
        assert taken(write_csv(tmp_path / "again", {"tools": [row]}))["written"]["tools"] == 0


def test_a_number_that_was_changed_beside_it_decides(tmp_path):
    row = {**TOOL, "length_mm": 100, "width_mm": "88.9", "as_typed": " Length_mm: 3 1/2 in;width_mm:3 1/2 in ; "}
    assert taken(write_csv(tmp_path / "in", {"tools": [row]}))["errors"] == []
    tool = Tool.objects.get()
    assert tool.length_mm == Fraction(100)
    assert tool.as_typed == {"width_mm": ["3 1/2", "in"]}


@pytest.mark.parametrize("said", ["3 1/2 in", "cost: 3 in", "mass_kg: 3 in", "mass_kg: x", "mass_kg: 1/0"])
def test_what_cannot_be_read_is_said(tmp_path, said):
    book = write_csv(tmp_path / "in", {"tools": [{**TOOL, "as_typed": said}]})
    assert cells_at_fault(book) == [("tools", 2, "as_typed")]
    assert f"“{said}”" in taken(book)["errors"][0]["message"]
    assert not Tool.objects.exists()
