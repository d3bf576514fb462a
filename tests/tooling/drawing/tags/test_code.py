"""The code on a tag: readable at 2 m where the stock has room for it, on two lines where one would be too small."""

import pytest

from tests.tooling.drawing.tags import said
from tooling.drawing.tags.code import READABLE, fitted
from tooling.drawing.tags.heads import heads_of
from tooling.drawing.tags.sizes import sizes_of

MATRIX = said.matrix()


@pytest.mark.parametrize("stock", said.STOCKS)
@pytest.mark.parametrize(
    "code", ["HATCH7", "12.STBD", "DECK-2B", "COAM-TRIM", "RUDDER-STARBD-2", "TN-THWART-AFT", "M" * 13]
)
def test_every_stock_shows_it_from_afar(stock, code):
    head = heads_of("", code, sizes_of(*said.STOCKS[stock]), MATRIX)[0]
    assert head.capital >= READABLE


@pytest.mark.parametrize(
    ("code", "lines"),
    [
        ("DECK-2B", ("DECK-2B",)),
        ("RUDDER-STARBD-2", ("RUDDER-", "STARBD-2")),
        ("HARBORTENDER.DK2", ("HARBORTENDER.", "DK2")),
        ("SEAKAYAKDECK520", ("SEAKAYAKDECK", "520")),
        ("W" * 16, ("W" * 8, "W" * 8)),
    ],
)
def test_it_is_broken_behind_a_sign_else_before_a_number_else_in_its_middle(code, lines):
    assert fitted(code, 55, 14, 15, several=18).lines == lines


def test_it_never_grows_over_its_room():
    for code in ("I", "-", ".", "W" * 16, "A-", "-A"):
        one = fitted(code, 30, 8, 40, several=11)
        assert one.wide <= 30
        assert one.high <= 11
        assert "".join(one.lines) == code
