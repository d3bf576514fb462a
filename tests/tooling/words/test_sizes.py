"""Sizes of cuts: as typed where the unit is the reader's, else as fine as a router is set."""

from decimal import Decimal
from types import SimpleNamespace

from tooling.words.sizes import given, size, times, worked


def test_what_was_typed_comes_back_and_all_else_is_finer_than_a_rule():
    row = SimpleNamespace(cutter_mm=Decimal("6.35"), bushing_mm=Decimal(20), as_typed={"cutter_mm": ["0.25", "in"]})
    assert [given(row, name, "us") for name in ("cutter_mm", "bushing_mm")] == ["0.25 in", "0.787 in"]
    assert [given(row, name, "metric") for name in ("cutter_mm", "bushing_mm")] == ["6.35 mm", "20 mm"]
    assert size(Decimal("9.525"), "us") == "3/8 in"
    assert size(Decimal("0.005"), "metric") == "0.005 mm"


def test_two_sizes_share_their_unit():
    assert times(worked(220.0, "metric"), worked(100.254, "metric")) == "220 × 100.25 mm"
    assert times("8 1/2 in", "4 in") == "8 1/2 × 4 in"
    assert times("", "4 in") == "4 in"
    assert times("12 in", "90 mm") == "12 in × 90 mm"
