"""Every kind on every stock, ordinary and as long as a shop may write it: nothing overlaps, nothing runs over."""

import re
from dataclasses import replace
from html import unescape
from itertools import combinations

import pytest

from shared.errors import Refused
from shared.paper import qr
from shared.paper.boxes import Box, Tag
from shared.paper.letters import BOLD, PLAIN, width
from tests.tooling.drawing.tags import said
from tooling.drawing.tags import draw
from tooling.drawing.tags.facts import LEFT_OUT_FIRST
from tooling.drawing.tags.sizes import EDGE
from tooling.words import on_tags as words

NEVER = {"mark", "code", "name", "qr"}
MATRIX = said.matrix()
LOOK = re.compile(r"font-size:([\d.]+)mm;line-height:([\d.]+)(?:;font-weight:(\d+))?")


def laid_out(tags, size, gates=False) -> list[Tag]:
    return [draw(one, *size, qr=MATRIX, gates=gates) for one in tags]


def needed(box: Box) -> tuple[float, float]:
    """How wide and how high the words in a box are."""
    look = LOOK.search(box.html)
    if look is None:
        return 0, 0
    size, leading, weight = float(look[1]), float(look[2]), int(look[3] or PLAIN)
    rows = box.html.partition(">")[2].split("<br>")
    wide = [
        sum(width(unescape(re.sub("<[^>]*>", "", run)), size, BOLD if bold else weight) for run, bold in runs(row))
        for row in rows
    ]
    return max(wide), len(rows) * size * leading


def runs(row: str) -> list[tuple[str, bool]]:
    return [(run, run.startswith("<b>")) for run in re.findall("<b>.*?</b>|(?:(?!<b>).)+", row.replace("</p>", ""))]


def check(tag: Tag) -> None:
    for one, other in combinations(tag.boxes, 2):
        assert not one.overlaps(other), (one.name, other.name, tag)
    for box in tag.boxes:
        assert box.x >= EDGE - 0.01, box
        assert box.y >= EDGE - 0.01, box
        assert box.right <= tag.wide - EDGE + 0.01, box
        assert box.bottom <= tag.high - EDGE + 0.01, box
        wide, high = needed(box)
        assert wide <= box.wide + 0.02, box
        assert high <= box.high + 0.06, box


def checked(facts, wide, high) -> Tag | None:
    """None where there is no room for it."""
    try:
        tag = draw(facts, wide, high, qr=MATRIX)
    except Refused:
        return None
    check(tag)
    return tag


@pytest.mark.parametrize("size", said.SIZES.values(), ids=said.SIZES)
def test_nothing_overlaps_and_all_words_are_within_their_boxes(size):
    for facts in said.tool_tags():
        pieces = {piece.name for line in facts.lines for piece in line} | {"gates", "name_end"}
        for gates in (False, True):
            order = tuple(
                name for name in LEFT_OUT_FIRST if name in pieces and (name != "gates" or (facts.pulls and gates))
            )
            tag = draw(facts, *size, qr=MATRIX, gates=gates)
            check(tag)
            assert {box.name for box in tag.boxes} > {*NEVER, "caution"}
            assert tag.left_out == order[: len(tag.left_out)], "in the one order that there is"
    for tag in laid_out(said.place_tags(), size):
        check(tag)
        assert {box.name for box in tag.boxes} > {*NEVER, "load"}


@pytest.mark.parametrize("size", [size for size in said.SIZES.values() if size != (30, 50)])
def test_a_held_tag_says_why_on_every_stock(size):
    for tag in laid_out(said.held_tags(), size):
        check(tag)
        assert {box.name for box in tag.boxes} >= {"tape", "code", "says", "reason", "since", "qr"}


@pytest.mark.parametrize("stock", said.STOCKS)
def test_a_tag_that_hangs_has_the_place_of_its_hole_and_a_held_one_the_tool_s_name(stock):
    for tag in (said.tool(), said.held()):
        names = {box.name for box in draw(tag, *said.STOCKS[stock], qr=MATRIX).boxes}
        assert ("hole" in names, "name" in names) == (stock == "a7", True)


@pytest.mark.parametrize("ratio", [0.6, 0.79, 1, 1.27, 1.6])
def test_a_held_tag_of_any_size_keeps_the_quiet_of_its_code(ratio):
    sizes = [(wide / 10, round(wide * ratio / 10, 1)) for wide in range(336, 720, 48)]
    assert sum(bool(checked(said.held(), *size)) for size in sizes) > 3


@pytest.mark.parametrize("stock", said.STOCKS)
@pytest.mark.parametrize("system", said.SYSTEMS)
def test_an_ordinary_tag_leaves_out_nothing_but_the_gates(stock, system):
    for kind in said.KINDS:
        tag = draw(said.tool(kind, system=system), *said.STOCKS[stock], qr=MATRIX)
        assert tag.left_out == ()
        assert draw(said.tool(kind, system=system), *said.STOCKS[stock], qr=MATRIX, gates=True).left_out in (
            (),
            ("gates",),
        )


def test_the_row_of_gates_is_there_when_it_is_wanted():
    drawn = draw(said.tool(), 100, 60, qr=MATRIX, gates=True), draw(said.tool(), 100, 60, qr=MATRIX)
    assert [tag.named("gates") is not None for tag in drawn] == [True, False]
    assert drawn[0].named("pulls").html.count("since") == 1


@pytest.mark.parametrize("size", said.SIZES.values(), ids=said.SIZES)
def test_the_symbol_is_20_mm_where_there_is_room_and_never_below_12(size):
    box = draw(said.tool(), *size, qr=MATRIX).named("qr")
    symbol = box.wide * MATRIX.modules / MATRIX.across
    assert symbol >= (20 if min(size) > 47 else 12)
    assert box.wide == box.high


def test_a_stock_without_room_is_refused_in_a_sentence():
    with pytest.raises(Refused, match=r"12\.STBD and its QR code have no room on 25 × 20 mm: take a larger stock\."):
        draw(said.tool(), 25, 20, qr=MATRIX)
    with pytest.raises(Refused, match="20 to 300 mm"):
        draw(said.place(), 400, 20, qr=MATRIX)
    with pytest.raises(Refused, match="have no room on 20 × 20 mm"):
        draw(said.held(), 20, 20, qr=MATRIX)


def test_a_longer_address_takes_its_quiet_zone_along():
    long = qr.made(qr.address("https://molds-and-plugs.boatworks-at-the-lake.example", qr.TOOL, "W" * 16))
    box = draw(said.tool(), 100, 60, qr=long).named("qr")
    assert box.wide == pytest.approx(20 * (long.modules + 8) / long.modules)


def test_safety_goes_last():
    assert LEFT_OUT_FIRST[-3:] == ("hottest", "lift", "mass")
    tag = draw(said.tool(length="long"), 30, 50, qr=MATRIX)
    assert "read it first" in tag.named("mass").html


def test_silence_is_never_read_as_light_as_fit_for_use_or_as_any_load():
    long = said.tool(length="long")
    alone = ((words.retired(),), *long.lines[:-1], (words.weight(said.NUMBER, "metric", None), words.no_lift()))
    for size in ((60, 60), *said.STOCKS.values()):
        tag = draw(replace(long, lines=alone), *size, qr=MATRIX)
        check(tag)
        html = " ".join(box.html for box in tag.boxes)
        assert "Retired: not to be used" in html
        assert "ask the lead" in html
    board = [draw(replace(said.place(), load=load), 100, 60, qr=MATRIX).named("rule") for load in ("", words.no_load())]
    assert [one is not None for one in board] == [False, True]
