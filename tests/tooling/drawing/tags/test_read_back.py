"""Every stock as a picture at 150 and 300 dpi: every code is read back, exactly, also smudged and tilted."""

from dataclasses import replace
from io import BytesIO

import pytest

from shared.paper import qr, sheets, stocks
from shared.paper.boxes import Box
from tests.shared.paper import phones
from tests.shared.paper.needs import pango
from tests.tooling.drawing.tags import said
from tooling.drawing.tags import draw

SITE = "http://192.168.1.20:8000"
STOCKS = {
    **{name: stocks.stock(name) for name in stocks.NAMES},
    "90x50": stocks.stock(size=(90, 50)),
    "a4-sheet of 60x40": stocks.stock(stocks.A4_SHEET, (60, 40)),
}


def mixed():
    """A tag of each kind, of a place and of a held tool, ordinary and of the longest words, each of its own code."""
    facts = [
        *(said.tool(kind, length) for kind in said.KINDS for length in ("ordinary", "long")),
        said.place("long"), said.held("long", 3),
    ]  # fmt: skip
    return [replace(one, code=f"{number}{'W' * 14 if number % 2 else '.X-1'}") for number, one in enumerate(facts)]


@pytest.fixture(scope="module", params=STOCKS)
def printed(request):
    """The PDF, for each page where its codes are, and the addresses that they lead to."""
    stock, facts = STOCKS[request.param], mixed()
    kinds = [qr.PLACE if type(one).__name__ == "PlaceTag" else qr.TOOL for one in facts]
    addresses = [qr.address(SITE, kind, one.code) for kind, one in zip(kinds, facts, strict=True)]
    tags = [draw(one, stock.wide, stock.high, qr=qr.made(to)) for one, to in zip(facts, addresses, strict=True)]
    file = BytesIO()
    sheets.write(tags, file, stock, "Tags", cut_marks=stock.sheet is not None)
    places = [(at // len(stock.places), stock.places[at % len(stock.places)]) for at in range(len(tags))]
    where: dict[int, list[Box]] = {}
    for tag, (page, (x, y)) in zip(tags, places, strict=True):
        code = tag.named("qr")
        where.setdefault(page, []).append(replace(code, x=code.x + x, y=code.y + y))
    return file.getvalue(), list(where.values()), sorted(addresses)


@pango
@pytest.mark.parametrize("dpi", [150, 300])
def test_every_code_is_read_back(printed, dpi):
    made, where, addresses = printed
    looks = phones.pages(made, dpi)
    assert len(looks) == len(where)
    assert sorted(text for look in looks for text in phones.read(look)) == addresses
    dirty = [(phones.smudged(look, codes, dpi), codes) for look, codes in zip(looks, where, strict=True)]
    seen = [phones.tilted(phones.close(look, code, dpi)) for look, codes in dirty for code in codes]
    assert sorted(text for look in seen for text in phones.read(look)) == addresses


@pango
def test_no_code_is_smaller_than_a_phone_reads(printed):
    _made, where, _addresses = printed
    least = qr.LEAST * 37 / 29 - 0.01
    assert min(code.wide for codes in where for code in codes) >= least
