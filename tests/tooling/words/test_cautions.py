"""The cautions: what each warns of, in the word of the recipe's family."""

import pytest

from tooling.calc.entry import WORKS
from tooling.words.cautions import CAUTIONS, caution
from tooling.words.making_cautions import for_making

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
        "mist catches fire",
        "rags go in a closed can; catalysed filler, gel coat and resin, and rags with them, never do: they heat",
        "resin waste",
        "A tool wet with solvent does not go in an oven",
        "respirator, extraction, eyes and skin covered",
        "conducts",
        "data sheet",
    ),
    "sanding": ("respirator", "extraction", "conducts", "closed can"),
    "look": ("cut", "bare glass", "no bare finger", "tips", "own words for its lift", "nobody under", "hot"),
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


@pytest.mark.parametrize("kind", ["plug", "mold"])
def test_every_work_of_building_a_tool_has_its_caution(kind):
    now, other = for_making(kind, [])
    assert len(f"{now[0].signal} {now[0].short}") <= TWO_LINES
    for work in set(WORKS) - {"other"}:
        (own, *_more), rest = for_making(kind, [work])
        assert own.text in {one.text for one in other}
        assert own.text not in {one.text for one in rest}
    said = {one.about: f"{one.short} {one.text}" for one in other}
    assert "heats itself, up to smoke" in said["making_skin"]
    assert "no flame" in said["making_primer"]
    assert "arc" in said["making_frame"]
    assert ("nobody within its reach" in said["making_machining"]) == (kind == "plug")


def test_what_building_a_tool_warns_of_in_short_has_two_lines():
    own = [one for one in for_making("mold", [])[1] if one.about not in ("making_filler",)]
    assert [len(f"{one.signal} {one.short}") for one in own if len(f"{one.signal} {one.short}") > TWO_LINES] == []
