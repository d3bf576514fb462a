"""Heat of a part against what a tool stands. The rule of 28 °C: from memory of MIL-HDBK-17-1F 2.2.8."""

import math

import pytest

from tooling.calc.thermal import service_margin


@pytest.mark.parametrize(
    ("known", "limit", "margin", "verdict"),
    [
        ({"max_service_c": 70}, 70, 10, "within"),
        ({"max_service_c": 60}, 60, 0, "within"),
        ({"max_service_c": 55}, 55, -5, "beyond"),
        # the maker decides, whatever the resin is said to do
        ({"max_service_c": 70, "glass_transition_c": 50}, 70, 10, "within"),
        ({"max_service_c": 55, "glass_transition_c": 90}, 55, -5, "beyond"),
        # without the maker's word: a warning and no gate
        ({"glass_transition_c": 90}, 90, 30, "within"),
        ({"glass_transition_c": 50}, 50, -10, "warning"),
        ({"glass_transition_c": 90, "wet_glass_transition_c": 55}, 55, -5, "warning"),
        ({}, None, None, "unknown"),
    ],
)
def test_the_maker_decides_and_a_glass_transition_only_warns(known, limit, margin, verdict):
    found = service_margin(60, **known)
    assert (found.limit_c, found.margin_c, found.verdict) == (limit, margin, verdict)


@pytest.mark.parametrize(("wet", "keeps"), [(88, True), (87.9, False), (None, None)])
def test_a_part_in_wet_service_keeps_28_degrees(wet, keeps):
    found = service_margin(60, wet_glass_transition_c=wet)
    assert found.wet_rule is keeps


@pytest.mark.parametrize("wrong", [-274, math.nan, math.inf])
@pytest.mark.parametrize("name", ["peak_c", "max_service_c", "glass_transition_c", "wet_glass_transition_c"])
def test_no_temperature_is_refused_with_its_range(name, wrong):
    with pytest.raises(ValueError, match=r"it goes from -273\.15 °C upwards"):
        service_margin(**{"peak_c": 60, name: wrong})
