"""Boxes: which of them cover one spot."""

import pytest

from shared.paper.boxes import Box, Tag

MIDDLE = Box(10, 10, 20, 5, "", "middle")


@pytest.mark.parametrize(
    ("x", "y", "wide", "high", "covers"),
    [
        (15, 12, 2, 2, True), (0, 0, 50, 50, True), (29, 14, 5, 5, True), (0, 0, 11, 11, True),
        (30, 10, 5, 5, False), (10, 15, 20, 5, False), (0, 10, 10, 5, False), (10, 0, 20, 10, False),
    ],
)  # fmt: skip
def test_boxes_that_touch_do_not_overlap(x, y, wide, high, covers):
    other = Box(x, y, wide, high, "", "other")
    assert MIDDLE.overlaps(other) is other.overlaps(MIDDLE) is covers


def test_a_tag_stands_where_it_is_put():
    tag = Tag(100, 60, (MIDDLE,))
    assert 'class="tag" style="left:5.00mm;top:28.50mm;width:100.00mm;height:60.00mm"' in tag.html(5, 28.5)
    assert 'class="t-middle" style="left:10.00mm;top:10.00mm;width:20.00mm;height:5.00mm"' in tag.html()
    assert (tag.named("middle"), tag.named("code")) == (MIDDLE, None)
