"""The codes on tags: the address, the symbol and its size.

Versions and capacities are those of ISO/IEC 18004:2015, table 7: at level Q version 2 (25 modules) takes 29
alphanumeric signs, version 3 (29 modules) 47, and 32 bytes; version 4 (33 modules) 46 bytes.
"""

import base64
from io import BytesIO

import pytest
from PIL import Image, ImageOps

from shared.errors import Refused
from shared.paper import qr

HOUSE = "http://192.168.1.20:8000"


@pytest.mark.parametrize(
    ("site", "address"),
    [
        (HOUSE, "HTTP://192.168.1.20:8000/T/12.STBD/"),
        ("https://tools.shop.example", "HTTPS://TOOLS.SHOP.EXAMPLE/T/12.STBD/"),
        ("http://[fd00::20]:8000", "HTTP://[FD00::20]:8000/T/12.STBD/"),
        ("http://bücher:81", "HTTP://XN--BCHER-KVA:81/T/12.STBD/"),
    ],
)
def test_an_address_is_in_capitals(site, address):
    assert qr.address(site, qr.TOOL, "12.STBD") == address


@pytest.mark.parametrize(
    ("address", "modules"),
    [
        (qr.address("http://werft", qr.PLACE, "R2.3"), 25),  # 20 signs
        ("HTTP://" + "A" * 22, 25), ("HTTP://" + "A" * 23, 29), ("HTTP://" + "A" * 40, 29), ("HTTP://" + "A" * 41, 33),
        (qr.address(HOUSE, qr.TOOL, "HATCH7"), 29),  # 34 signs
        ("HTTP://A_" + "A" * 23, 29), ("HTTP://A_" + "A" * 24, 33),  # 32 and 33 bytes
    ],
)  # fmt: skip
def test_a_symbol_is_as_large_as_its_address_and_level_ask(address, modules):
    matrix = qr.made(address)
    assert (matrix.modules, matrix.across) == (modules, modules + 8)
    rows = matrix.rows()
    assert [len(row) for row in rows] == [modules] * modules
    # the three corners by which it is found: dark, light, dark (clause 6.3.3)
    for row, column in ((0, 0), (0, modules - 7), (modules - 7, 0)):
        assert rows[row][column : column + 7] == [True] * 7
        assert rows[row + 1][column : column + 7] == [True, *[False] * 5, True]


def test_its_box_holds_the_quiet_zone():
    matrix = qr.made(qr.address(HOUSE, qr.TOOL, "HATCH7"))
    box = qr.box(matrix, 70, 10)
    assert (box.name, box.x, box.y) == ("qr", 70, 10)
    assert box.wide == box.high == pytest.approx(20 * 37 / 29)
    picture = Image.open(BytesIO(base64.b64decode(box.html.partition("base64,")[2].partition('"')[0])))
    assert (picture.mode, picture.size) == ("L", (37 * 8, 37 * 8))
    # what is dark begins right behind the quiet zone, on all sides
    assert ImageOps.invert(picture).getbbox() == (4 * 8, 4 * 8, 33 * 8, 33 * 8)
    for row, dark in enumerate(matrix.rows(), 4):
        assert [picture.getpixel((column * 8, row * 8 + 7)) == 0 for column in range(4, 33)] == dark


def test_one_that_no_phone_reads_is_refused():
    matrix = qr.made(qr.address(HOUSE, qr.TOOL, "HATCH7"))
    assert qr.box(matrix, 0, 0, 12).wide == pytest.approx(12 * 37 / 29)
    with pytest.raises(Refused, match="A phone reads none below 12 mm"):
        qr.box(matrix, 0, 0, 11.9)
