"""Straight lines and where they meet a limit, against certified and printed figures. Sources stand at each test."""

import math

import pytest

from tooling.calc.trend import crossing, meets, straight_line

NORRIS = """
0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3 449.1 448.6 778.9 777.0
559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1
998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0
10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5
"""
PONTIUS = """
.11019 .21956 .32949 .43899 .54803 .65694 .76562 .87487 .98292 1.09146
1.20001 1.30822 1.41599 1.52399 1.63194 1.73947 1.84646 1.95392 2.06128 2.16844
.11052 .22018 .32939 .43886 .54798 .65739 .76596 .87474 .98300 1.09150
1.20004 1.30818 1.41613 1.52408 1.63159 1.73965 1.84696 1.95445 2.06177 2.16829
"""
DIAL = range(0, 101, 10)
DEGREES = (206.36, 225.52, 252.18, 289.33, 318.11, 349.49, 383.03, 410.70, 444.40, 469.14, 501.16)
HOURS = range(2, 29, 2)
GRAMS = (0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04)


def test_the_line_that_is_certified():
    """NIST Statistical Reference Datasets, linear least squares, Norris: certified to 15 digits."""
    numbers = [float(one) for one in NORRIS.split()]
    line = straight_line(numbers[1::2], numbers[::2])
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-11)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-13)
    assert line.residual_sd == pytest.approx(0.884796396144373, rel=1e-11)
    assert line.se_intercept == pytest.approx(0.232818234301152, rel=1e-11)
    assert line.se_slope == pytest.approx(0.429796848199937e-3, rel=1e-11)
    assert line.r_squared == pytest.approx(0.999993745883712, rel=1e-13)


def test_a_line_close_to_that_through_medians():
    """P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379: the median of all slopes is 4. Least squares lies near it."""
    line = straight_line([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78])
    assert line.slope == pytest.approx(4, abs=0.05)


def test_where_a_line_meets_a_limit():
    """A reaction chamber, 400 degrees, 99 %: data and limits as the tests of investr, an R library for calibration.

    They name F. A. Graybill and H. K. Iyer, Regression Analysis, p. 433; the book itself was not looked at.
    """
    met = meets(DIAL, DEGREES, 400, confidence=0.99)
    assert met.at == pytest.approx(66.5, abs=0.05)
    assert (met.early, met.late) == (pytest.approx(65.07, abs=5e-3), pytest.approx(68.03, abs=5e-3))


def test_where_a_line_of_more_scattered_readings_meets_a_limit():
    """Growth of crystals, 8 g, 95 % and 5 g, 90 %: limits for a mean response as the same tests of investr have them.

    Data from memory, after the same book; its page not checked.
    """
    met = meets(HOURS, GRAMS, 8, confidence=0.95)
    assert met.at == pytest.approx(15.8882, abs=5e-5)
    assert (met.early, met.late) == (pytest.approx(14.6590, abs=5e-5), pytest.approx(17.1596, abs=5e-5))
    met = meets(HOURS, GRAMS, 5, confidence=0.90)
    assert (met.early, met.at, met.late) == pytest.approx((8.65, 9.93, 11.05), abs=5e-3)


def test_fiellers_limits_are_where_the_band_of_the_line_meets_the_limit():
    """By definition: there the line is as far off the limit as it is wide. Wide as t of Student's table, 1.7823."""
    found = crossing(HOURS, GRAMS, 20)
    line, n, mean = straight_line(HOURS, GRAMS), len(GRAMS), sum(HOURS) / len(GRAMS)
    sxx = sum((one - mean) ** 2 for one in HOURS)
    for x in (found.early, found.late):
        wide = 1.7823 * line.residual_sd * math.sqrt(1 / n + (x - mean) ** 2 / sxx)
        assert abs(line.intercept + line.slope * x - 20) == pytest.approx(wide, rel=1e-4)
    assert (found.verdict, line.intercept + line.slope * found.at) == ("reaches", pytest.approx(20))


def test_a_curve_that_is_certified_is_no_line():
    """NIST Statistical Reference Datasets, Pontius: certified as quadratic, b2 65 of its standard errors off 0."""
    load = [150_000 * step for step in range(1, 21)] * 2
    deflection = [float(one) for one in PONTIUS.split()]
    assert crossing(load, deflection, 3).verdict == "not_straight"
