"""The cautions: what each warns of, in the word of the recipe's family."""

import pytest

from tooling.words.cautions import CAUTIONS, caution

TWO_LINES = 95  # of a phone, with the signal word
WARNED_OF = {
    "coats": ("burn", "vapours", "eyes", "closed can", "heat themselves", "resin waste", "not go in an oven"),
    "film": ("PVA liquid burns", "vapours", "eyes", "closed can", "oven"),
    "lay_up": (
        "blinds",
        "accelerator",
        "burns",
        "sensitise the skin",
        "rags soaked",
        "heat themselves",
        "resin waste",
        "Cutting dry glass and carbon cloth: respirator",
        "carbon’s dust also conducts",
        "static",
    ),
    "lift": ("heavy", "own words for the lift", "feet clear", "nobody under", "ask the lead", "hot"),
    "pull": (
        "air and water pop parts",
        "wedges slip",
        "eyes and face",
        "Bagging and release film spark",
        "cut: gloves",
        "still be hot",
    ),
    "off": ("with a jump", "not the hoist", "Slings slack", "clamped down", "nobody under", "hot"),
    "strip": (
        "burn",
        "ventilation",
        "Strippers burn the skin",
        "respirator, extraction, eyes and skin",
        "conducts",
        "closed can",
        "tool wet with solvent does not go in an oven",
    ),
    "repair": (
        "blinds",
        "accelerator",
        "sensitise the skin",
        "heat themselves",
        "resin waste",
        "respirator",
        "conducts",
        "data sheet",
    ),
    "sanding": ("respirator", "extraction", "conducts", "closed can"),
    "clean": ("burn", "vapours", "closed can", "tool wet with solvent does not go in an oven", "respirator"),
    "insert": ("pinches", "falls", "hands clear"),
    "insert_out": ("air and water pop", "wedges slip", "eyes and face", "falls", "hands clear", "hot"),
}


@pytest.mark.parametrize("about", CAUTIONS)
def test_all_of_it_is_said_and_ends_with_the_data_sheet(about):
    said = str(caution(about, "paste_wax").text)
    assert [words for words in WARNED_OF[about] if words not in said] == []
    assert said.endswith(". Follow the supplier’s data sheet and the local code.")


@pytest.mark.parametrize("about", CAUTIONS)
@pytest.mark.parametrize("family", ["paste_wax", "semi_permanent", "other"])
def test_in_short_it_has_two_lines_on_a_phone(about, family):
    said = caution(about, family)
    assert len(f"{said.signal} {said.short}") <= TWO_LINES


@pytest.mark.parametrize(
    ("family", "stuff"), [("paste_wax", "Wax"), ("semi_permanent", "Release liquid"), ("other", "Release agent")]
)
def test_a_coat_is_said_as_what_it_is(family, stuff):
    said = caution("coats", family)
    assert str(said.short).startswith(f"{stuff} and solvent burn")
    assert str(said.text).startswith(f"{stuff} and solvent burn")


def test_a_piece_that_is_freed_can_harm_badly():
    assert str(caution("insert_out").signal) == "WARNING"
    assert str(caution("insert").signal) == "CAUTION"
