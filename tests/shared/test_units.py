"""Units: exact both ways, read as people type them, shown as they were typed.

The factors are those of NIST SP 811; the expected numbers of the table were worked out by hand from them.
"""

import contextlib
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.units import FINEST, METRIC, UNITS, US, NotRead, finely, from_si, read, shown, stored, to_si, typed, unit_of

INCH, POUND, FAHRENHEIT, MM = (UNITS[symbol] for symbol in ("in", "lb", "°F", "mm"))
NUMBERS = st.fractions(min_value=-(10**6), max_value=10**6)


@pytest.mark.parametrize(
    ("symbol", "text", "si"),
    [
        ("in", "1", "25.4"), ("in", "3 1/2", "88.9"), ("in", "3-1/2", "88.9"), ("in", "3½", "88.9"),
        ("in", "½", "12.7"),
        ("mm", "²", "2"), ("in", "12″", "304.8"), ("in", "5 in.", "127"),
        ("in", "1/64", "0.396875"), ("in", "63/64", "25.003125"), ("in", "3.5", "88.9"), ("in", "3,5", "88.9"),
        ("in", '12 3/8"', "314.325"), ("in", "100 mm", "100"), ("mm", "3 1/2 in", "88.9"), ("mm", "12,5", "12.5"),
        ("mm", ".5", "0.5"), ("mm", "0,125", "0.125"), ("mm", "5.", "5"), ("in", " 7 ", "177.8"),
        ("lb", "1", "0.453592"), ("lb", "100 lbs", "45.359237"), ("kg", "38.50", "38.5"), ("kg", "10 lb", "4.535924"),
        ("°F", "32", "0"), ("°F", "212", "100"), ("°F", "-40", "-40"), ("°F", "−40 F", "-40"), ("°C", "80 °C", "80"),
        ("°C", "250 F", "121.111111"), ("in", "12.125", "307.975"), ("ft", "1", "0.3048"), ("ft", "3 m", "3"),
        ("m", "10 feet", "3.048"),
        ("mm", "0.350", "0.35"), ("mm", "5.3550", "5.355"), ("mm", "１２", "12"),
    ],
)  # fmt: skip
def test_what_a_person_types_is_meant_exactly(symbol, text, si):
    assert stored(read(text, UNITS[symbol]).si) == Decimal(si)


@pytest.mark.parametrize(
    ("symbol", "text", "code"),
    [
        ("mm", "1,250", "two_ways"), ("mm", "250,000", "two_ways"),
        ("mm", "5.350", "two_ways"), ("°C", "-10.500", "two_ways"), ("in", "12,125", "two_ways"),
        ("in", "5.350 mm", "two_ways"), ("mm", "1,250.5", "no_number"),
        ("mm", "", "no_number"), ("mm", "soon", "no_number"), ("mm", "1/0", "no_number"), ("mm", "3 1/", "no_number"),
        ("mm", "nan", "no_number"), ("mm", "inf", "no_number"), ("mm", "1e5", "no_number"), ("mm", "--1", "no_number"),
        ("mm", "1 2", "no_number"), ("mm", "٣", "no_number"), ("mm", "5 kg", "other_unit"),
        ("kg", "5 in", "other_unit"), ("mm", "5 m", "other_unit"),
        ("mm", "9" * 41, "too_long"), ("mm", "5 mm mm", "no_number"), ("mm", "\x00", "no_number"),
    ],
)  # fmt: skip
def test_what_is_no_number_says_why(symbol, text, code):
    with pytest.raises(NotRead) as no:
        read(text, UNITS[symbol])
    assert no.value.code == code


@given(NUMBERS, st.sampled_from(sorted(UNITS)))
def test_there_and_back_is_the_very_same_number(number, symbol):
    unit = UNITS[symbol]
    assert from_si(to_si(number, unit), unit) == number


@given(st.integers(0, 40_000), st.integers(0, FINEST - 1))
def test_every_mark_of_a_rule_is_stored_exactly_and_comes_back_as_typed(whole, over):
    mark = whole + Fraction(over, FINEST)
    kept = stored(to_si(mark, INCH))
    assert Fraction(kept) == to_si(mark, INCH)
    text, exact = shown(kept, INCH)
    assert exact
    assert read(text, INCH).number == mark == read(typed(kept, INCH), INCH).number
    assert Fraction(read(text, INCH).number).denominator <= FINEST


@given(st.decimals(0, 99_999, places=4), st.sampled_from(["in", "lb", "°F"]))
def test_a_number_of_four_digits_comes_back_from_the_column(number, symbol):
    unit = UNITS[symbol]
    kept = stored(to_si(Fraction(number), unit))
    assert read(typed(kept, unit), unit).number == Fraction(number)


@given(st.decimals(-99_999, 99_999, places=6), st.sampled_from(["mm", "kg", "°C"]))
def test_a_metric_number_is_read_as_it_is_stored(number, symbol):
    text, exact = shown(number, UNITS[symbol])
    assert exact
    assert Fraction(text) == Fraction(number)


@given(st.text(max_size=45), st.sampled_from(sorted(UNITS)))
def test_any_text_is_a_number_or_refused(text, symbol):
    with contextlib.suppress(NotRead):
        assert isinstance(read(text, UNITS[symbol]).si, Fraction)


def test_a_metric_number_is_shortened_for_a_us_reader():
    lengths = {"5350": "210 5/8", "100": "3 15/16", "3": "1/8", "0.1": "0.00394", "609.5": "24", "-100": "-3 15/16"}
    assert {mm: shown(Decimal(mm), INCH) for mm in lengths} == {mm: (text, False) for mm, text in lengths.items()}
    masses = {"38": "84", "700": "1543", "2": "4.4", "0.01": "0.022"}
    assert {kg: shown(Decimal(kg), POUND) for kg in masses} == {kg: (text, False) for kg, text in masses.items()}
    assert shown(Decimal("61.283"), FAHRENHEIT) == ("142.3", False)
    assert shown(Decimal("0"), FAHRENHEIT) == ("32", True)
    assert shown(Decimal("-17.777778"), FAHRENHEIT) == ("0", True)


def test_a_length_that_a_machine_is_set_to_keeps_a_hundredth_or_a_thousandth():
    lengths = {6.35: ("6.35", "1/4"), 6.5: ("6.5", "0.256"), 0.3: ("0.3", "0.012"), -9.525: ("-9.52", "-3/8")}
    assert {mm: (finely(mm, MM), finely(Decimal(str(mm)), INCH)) for mm in lengths} == lengths
    assert (finely(-0.001, MM), finely(-0.001, INCH)) == ("0", "0")


@pytest.mark.parametrize(
    ("text", "ways"),
    [("5.350", ("5.35", "5350")), ("5,355", ("5.3550", "5355")), ("250.000", ("250", "250000"))],
)
def test_what_can_be_read_in_two_ways_says_both_and_each_is_then_read(text, ways):
    with pytest.raises(NotRead) as no:
        read(text, MM)
    assert no.value.ways == ways
    smaller, larger = (read(way, MM).number for way in ways)
    assert larger == smaller * 1000


@given(st.decimals(0, 99_999, places=3))
def test_a_form_shows_no_number_that_it_would_ask_about(number):
    assert read(typed(number, MM), MM).number == Fraction(number)


def test_each_system_has_its_units():
    assert [unit_of(si, US).symbol for si in ("mm", "kg", "°C", "min")] == ["in", "lb", "°F", "min"]
    assert [unit_of(si, METRIC).symbol for si in ("mm", "kg", "°C", "min")] == ["mm", "kg", "°C", "min"]
    assert unit_of("mm", "nonsense") is MM
