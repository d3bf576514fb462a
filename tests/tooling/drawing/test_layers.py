"""The coats as a section."""

from xml.etree import ElementTree

import pytest

from tooling.drawing.layers import MOST, layers_svg


@pytest.mark.parametrize(("on", "wanted", "classes"), [
    (0, 2, ["c-next", "c-next"]),
    (1, 2, ["c-now", "c-next"]),
    (3, 3, ["c-done", "c-done", "c-now"]),
    (0, 40, ["c-next"] * MOST),
])  # fmt: skip
def test_drawn_through_is_on_and_dotted_is_to_come(on, wanted, classes):
    svg = layers_svg(on, wanted)
    paths = ElementTree.fromstring(svg).iter("path")
    assert [
        path.get("class") for path in paths if path.get("class", "").startswith("c-") and path.get("class") != "c-wet"
    ] == classes
    assert f"{on} of {wanted} coats on" in svg
