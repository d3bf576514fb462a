"""Nothing is lost between two pieces, and nothing comes twice."""

import pytest

from shared.pieces import in_pieces


@pytest.mark.parametrize(
    ("every", "pieces"),
    [([], []), ([1], [[1]]), ([1, 2], [[1, 2]]), ([1, 2, 3, 4, 5], [[1, 2], [3, 4], [5]])],
)
def test_all_of_it_in_its_order(every, pieces):
    assert list(in_pieces(every, 2)) == pieces
