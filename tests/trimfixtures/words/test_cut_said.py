"""What is said of a cut before it is made, without a trim mask around it."""

from types import SimpleNamespace

import pytest

from shared.units import METRIC
from trimfixtures.models import Cutter, Feature
from trimfixtures.words.cut_said import cuts_said


def said_of(fit=None, gone=(), worn=(), **columns):
    of = {"offset_mm": None, "opening": None, "metres": None, "refusal": "", "off": False, "working": ()}
    feature = Feature(kind="hole", method="drill", **columns)
    (said,) = cuts_said([SimpleNamespace(feature=feature, fit=fit, gone=gone, worn=worn, **of)], METRIC)
    return {one.name: one.words.replace("\N{NO-BREAK SPACE}", " ") for one in said.facts}, said.beside


@pytest.mark.parametrize(
    ("bushing", "then"),
    [
        ("slip", "; then change the slip bushing for that of the last size, and drill up or ream"),
        ("fixed", ", then drill up or ream"),
        ("", ", then drill up or ream"),
    ],
)
def test_after_a_pilot_hole_the_last_size_is_guided_too(bushing, then):
    facts, _beside = said_of(cutter_mm=6, pilot_mm=3, drill_bushing=bushing)
    assert (facts["Pilot"], facts["Drill or reamer"]) == ("Ø 3 mm first" + then, "Ø 6 mm")
    assert "Drill or reamer" not in said_of(cutter_mm=6)[0]


def test_what_sizes_come_to_is_not_said_as_measured_at_an_edge():
    deep, left = (said_of(SimpleNamespace(error=error))[0]["Worked out"] for error in (-0.03, 0.03))
    assert deep == "from the sizes measured: 0.03 mm too deep"
    assert left == "from the sizes measured: 0.03 mm left outside the line"


def test_a_worn_one_is_not_used():
    assert said_of(worn=[Cutter(code="D10")])[1] == ("D10 is worn: take a fresh one.",)
