"""How a cell of a recipe is understood."""

from decimal import Decimal

import pytest

from tooling.models import RecipeVersion
from tooling.services.recipe_columns import COLUMNS, read

NEEDED = {"name": "Wax", "family": "paste_wax"}


def value(column, cell):
    values, errors = read({**NEEDED, column: cell})
    assert errors == {}
    return values[column]


def test_columns_that_are_absent_have_the_defaults_of_the_model():
    values, errors = read(NEEDED)
    assert errors == {}
    model = RecipeVersion(**NEEDED)
    assert values == {column: getattr(model, column) for column in COLUMNS}


def test_every_column_of_the_model_is_read():
    own = {"id", "system", "valid_from"}
    assert {field.name for field in RecipeVersion._meta.fields} - own == set(COLUMNS)


@pytest.mark.parametrize("empty", ["", "  ", None])
@pytest.mark.parametrize(
    ("column", "means"),
    [
        ("break_in", ""), ("accepts", ""), ("supplier_sheet", ""), ("max_idle_days", None), ("max_touch_ups", None),
        ("max_pulls_per_preparation", None), ("strip_after_idle_days", None), ("max_coat_age_days", None),
        ("film_good_hours", None), ("longest_gap_hours", None), ("low_c", None), ("max_part_cure_c", None),
        ("pulls_between", 4), ("coats_new", 5), ("coats_again", 3), ("touch_up_coats", 1), ("sealer_coats", 0),
        ("break_in_on", "every_preparation"), ("film_every_pull", False), ("film_first_pulls", 0),
        ("touch_up_from", "tight"), ("strip_from", "stuck"), ("hold_from", "lost"), ("coat_minutes", 15),
        ("strip_minutes", 60), ("cure_hours_touch_up", 0),
    ],
)  # fmt: skip
def test_an_empty_cell_means_none_or_the_default(column, means, empty):
    assert value(column, empty) == means


@pytest.mark.parametrize("column", ["name", "family"])
def test_a_needed_cell_is_missed(column):
    for cells in ({**NEEDED, column: " "}, {key: cell for key, cell in NEEDED.items() if key != column}):
        values, errors = read(cells)
        assert list(errors) == [column]
        assert column not in values


@pytest.mark.parametrize(
    ("column", "cell", "means"),
    [
        ("pulls_between", 5, 5), ("pulls_between", 5.0, 5), ("pulls_between", "5.0", 5), ("pulls_between", " 5 ", 5),
        ("max_idle_days", 0, 0), ("sealer_coats", "0", 0), ("break_in", 2, "2"), ("break_in", 2.0, "2"),
        ("break_in", "1, 1 ,2", "1,1,2"), ("cure_hours_touch_up", 0.5, Decimal("0.5")),
        ("cure_hours_touch_up", 1 / 3, Decimal("0.333333")), ("film_dry_minutes", "20", 20), ("low_c", -5, -5),
        ("low_c", "18.50", Decimal("18.5")), ("film_every_pull", "YES", True), ("film_every_pull", "no", False),
        ("film_every_pull", True, True), ("family", " Semi_Permanent ", "semi_permanent"),
        ("hold_from", "Stuck", "stuck"),
        ("accepts", "w2, s ,W2", "W2,S"), ("accepts", "s", "S"), ("name", " Hard   wax ", "Hard wax"),
        ("supplier_sheet", "data sheet, p. 3", "data sheet, p. 3"),
    ],
)  # fmt: skip
def test_a_cell_is_taken_as_a_person_means_it(column, cell, means):
    assert value(column, cell) == means


@pytest.mark.parametrize(
    ("column", "cell"),
    [
        *((column, 0) for column in ("pulls_between", "coats_new", "coats_again", "touch_up_coats")),
        ("pulls_between", 4.5), ("pulls_between", "four"), ("pulls_between", True), ("pulls_between", 10**12),
        ("sealer_coats", -1), ("max_idle_days", -1), ("max_idle_days", 1.5), ("film_first_pulls", "nan"),
        ("break_in", "1,0"), ("break_in", "1,,2"), ("break_in", 1.5), ("break_in", "one"),
        ("cure_hours_preparation", -1), ("cure_hours_preparation", "inf"), ("cure_hours_preparation", "overnight"),
        ("film_every_pull", "maybe"), ("film_every_pull", 1), ("family", "wax"), ("touch_up_from", "hard"),
        ("break_in_on", "always"), ("accepts", "no such/code"), ("name", "x" * 201), ("low_c", "cold"),
    ],
)  # fmt: skip
def test_a_wrong_cell_is_named_once_and_alone(column, cell):
    values, errors = read({**NEEDED, column: cell})
    assert list(errors) == [column]
    assert errors[column]
    assert set(values) == set(COLUMNS) - {column}


@pytest.mark.parametrize(
    ("most", "columns"),
    [
        (100, ("sealer_coats", "coats_new", "coats_again", "touch_up_coats")),
        (500, ("pulls_between", "max_touch_ups", "max_pulls_per_preparation", "film_first_pulls", "break_in")),
        (36_500, ("max_idle_days", "strip_after_idle_days", "max_coat_age_days")),
        (8_760, ("film_good_hours", "longest_gap_hours", "cure_hours_preparation", "cure_hours_touch_up")),
        (525_600, ("film_dry_minutes", "coat_gap_minutes")),
        (10_080, ("coat_minutes", "wipe_minutes", "film_minutes", "strip_minutes")),
    ],
)
def test_a_number_goes_up_to_what_a_board_can_show(most, columns):
    for column in columns:
        assert str(value(column, most)) == str(most)
        _values, errors = read({**NEEDED, column: most + 1})
        assert list(errors) == [column]
        assert f"to {most}" in errors[column]


def test_a_break_in_is_no_endless_list():
    assert value("break_in", "1," * 99 + "1") == "1," * 99 + "1"
    assert list(read({**NEEDED, "break_in": "1," * 100 + "1"})[1]) == ["break_in"]


def test_every_wrong_cell_of_a_row_is_named():
    _values, errors = read({"name": "", "family": "x", "break_in": "0", "low_c": "cold"})
    assert set(errors) == {"name", "family", "break_in", "low_c"}
