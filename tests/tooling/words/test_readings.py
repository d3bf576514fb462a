"""A reading is said in one way, in the units of whoever reads it."""

import pytest

from shared.units import METRIC, US
from tooling.words.readings import said

GLOSS = {"quantity": "gloss", "geometry": "60°", "spot": "keel", "value": "84.2", "unit": "GU", "standard": "ISO 2813"}


@pytest.mark.parametrize(
    ("payload", "units", "text"),
    [
        (GLOSS, METRIC, "gloss 60° at keel: 84.2 GU (ISO 2813)"),
        ({"quantity": "roughness", "geometry": "Ra", "value": "0.4", "unit": "µm"}, US, "roughness Ra: 0.4 µm"),
        ({"quantity": "depth", "value": "0.5", "unit": "in"}, METRIC, "depth: 12.7 mm"),
        ({"quantity": "depth", "value": "12.7", "unit": "mm"}, US, "depth: 1/2 in"),
        ({"quantity": "Sag", "value": "-2", "unit": "°"}, METRIC, "Sag: -2 °"),
        ({"quantity": "gloss", "value": "80"}, METRIC, "gloss: 80, no unit said"),
    ],
)
def test_what_it_was_where_and_how_much(payload, units, text):
    assert said(payload, units) == text
