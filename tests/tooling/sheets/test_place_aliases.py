"""Older codes of places go out, come in again, and belong to one place each."""

import pytest

from tests.tooling.sheets.books import taken
from tests.tooling.sheets.shops import make_empty
from tooling.models import Place, PlaceAlias
from tooling.services.sheets.exporting import export_shop

pytestmark = pytest.mark.django_db


def test_they_go_out_and_in_again(tmp_path):
    PlaceAlias.objects.create(code="OLD", place=Place.objects.create(code="B-1", name="Rack"))
    export_shop(tmp_path / "out")
    make_empty()
    assert taken(tmp_path / "out")["errors"] == []
    assert [(alias.code, alias.place.code) for alias in PlaceAlias.objects.all()] == [("OLD", "B-1")]
    again = taken(tmp_path / "out")
    assert (again["errors"], again["written"]["places"]) == ([], 0)


@pytest.mark.parametrize(
    ("row", "column", "wrong"),
    [
        ("OLD,,New rack", "code", "OLD is or was the code of the place B-1."),
        ("C-1,B-1,New rack", "aliases", "B-1 is or was the code of the place B-1."),
        ("C-1,a b,New rack", "aliases", "A code is 1 to 16"),
        ("C-1,X,Rack\nC-2,X,Rack", "aliases", "X is or was the code of the place C-1."),
    ],
)
def test_a_code_belongs_to_one_place(tmp_path, row, column, wrong):
    PlaceAlias.objects.create(code="OLD", place=Place.objects.create(code="B-1", name="Rack"))
    (tmp_path / "places.csv").write_text(f"code,aliases,name\n{row}\n", encoding="utf-8")
    (error,) = taken(tmp_path)["errors"]
    assert error["column"] == column
    assert wrong in error["message"]
    assert Place.objects.count() == 1
