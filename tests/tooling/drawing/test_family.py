"""The line of a family drawn: which sections there are, and that it says in words what it shows."""

import re
from types import SimpleNamespace as Of

import pytest

from tooling.drawing import ink
from tooling.drawing.family import MOST, family_line


def tool(code, kind="mold", pulls=3):
    return Of(code=code, kind=kind, summary=Of(total_pulls=pulls, retired=False))


PLUG, DECK, HULL = tool("P-1", "plug"), tool("DECK"), tool("HULL")


def family(one, line=(), *, made=(), halves=(), inserts=(), masks=(), before=()):
    def of(those):
        return lambda asked: list(those) if asked is one else []

    return Of(
        tool=one, line=[*line, one], made=lambda asked: list(made) if asked is PLUG else [], halves=of(halves),
        inserts=of(inserts), trim_masks=of(masks), molds_of=of([DECK]), before=of(before), after=of(()),
    )  # fmt: skip


def kinds(svg):
    return re.findall(r'<g class="(\w+)"', svg)


@pytest.mark.parametrize(
    ("of", "drawn"),
    [
        (family(DECK, [PLUG], made=[DECK]), ["laid", "cup"]),
        (family(DECK, halves=[HULL]), ["closed"]),
        (family(DECK, before=[HULL]), ["cup", "replaced"]),
        (family(PLUG), ["bare"]),
        (family(PLUG, made=[tool(f"M-{n}") for n in range(30)]), ["laid", *["cup"] * MOST]),
        (family(tool("RIM", "insert")), ["insert"]),
        (family(tool("T-1", "trim_mask")), ["cup"]),
    ],
)
def test_which_sections_there_are(of, drawn):
    assert kinds(family_line(of)) == drawn
    assert len(kinds(family_line(of, small=True))) <= 2


def test_it_says_what_it_shows_and_paper_takes_it_black():
    svg = family_line(family(DECK, [PLUG], made=[DECK, HULL], inserts=[tool("<RIM>", "insert")]))
    assert "<desc>DECK as it was laid on P-1. 1 more came off it. DECK with a part in it: 3 pulled." in svg
    assert "&lt;RIM&gt;" in svg and "<RIM>" not in svg  # noqa: PT018  (one fact)
    assert set(re.findall(r"#[0-9a-f]+", ink.on_paper(svg))) == {"#000", "#fff"}


def test_a_long_code_stays_within_its_section():
    svg = family_line(family(tool("M" * 16), [PLUG], made=[DECK]))
    size = float(re.search(r'font-size="([\d.]+)"[^>]*>M{16}', svg)[1])
    assert size < 16


def test_four_beside_each_other_on_a_desk_and_what_replaced_what_is_low():
    plug = family(PLUG, made=[tool(f"M-{n}") for n in range(3)])
    assert 'viewBox="0 0 412 432"' in family_line(plug)
    assert 'viewBox="0 0 824 216"' in family_line(plug, across=4)
    svg = family_line(family(DECK, [PLUG], made=[DECK], before=[tool("DECK-0")]))
    assert 'viewBox="0 0 412 312"' in svg  # two sections, below them the lower one
    old, new = (re.search(rf'x="([\d.]+)" y="84.0"[^>]*>{code}<', svg)[1] for code in ("DECK-0", "DECK"))
    assert (old, new) == ("49.0", "157.0")
