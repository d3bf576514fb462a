"""The tape: what stands on it in every case, that a stroke never moves, and that its words say the whole truth."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from django.utils import translation

from tooling.drawing.tally import tally_svg, tally_words, wobble

GOLDEN = Path(__file__).with_name("tally_golden.txt")
FREE = ["free"]

# strokes, left, coats; what is drawn: smears, strokes, crosses, places, wanted, rings; and the words
CASES = [
    ([], 4, None, (1, 0, 0, 4, 1, []), "No pull since the last coat. 4 left, then a coat."),
    ([], 0, None, (1, 0, 0, 0, 1, []), "No pull since the last coat. Coat first."),
    (FREE, 3, None, (1, 1, 0, 3, 1, []), "1 pull since the last coat. 3 left, then a coat."),
    (["free", "light"], 2, None, (1, 2, 0, 2, 1, []), "2 pulls since the last coat. 2 left, then a coat."),
    (FREE * 4, 2, None, (1, 4, 0, 2, 1, []), "4 pulls since the last coat. 2 left, then a coat."),
    (["free", "light", "", "light"], 0, None, (1, 4, 0, 0, 1, []), "4 pulls since the last coat. Coat first."),
    (["free", "free", "tight"], 0, None, (1, 3, 1, 0, 1, []), "3 pulls since the last coat, pull 3 tight. Coat first."),
    (FREE * 4 + ["lost"], 0, None, (1, 5, 1, 0, 1, []), "5 pulls since the last coat, pull 5 lost. Coat first."),
    (FREE * 9, 3, None, (1, 9, 0, 3, 1, []), "9 pulls since the last coat. 3 left, then a coat."),
    (
        FREE * 4 + ["light", "tight"],
        -2,
        None,
        (1, 6, 1, 0, 1, []),
        "6 pulls since the last coat, pull 6 tight. 2 past the coat line: coat first.",
    ),
    (FREE * 15, 0, None, (1, 15, 0, 0, 1, []), "15 pulls since the last coat. Coat first."),
    (FREE * 40, 0, None, (1, 10, 0, 0, 1, ["30"]), "40 pulls since the last coat. Coat first."),
    (
        (FREE * 7 + ["tight"]) * 5,
        4,
        None,
        (1, 5, 4, 4, 1, ["35"]),
        "40 pulls since the last coat, 5 of them hard. 4 left, then a coat.",
    ),
    (FREE * 2, 30, None, (1, 2, 0, 8, 1, ["+22"]), "2 pulls since the last coat. 30 left, then a coat."),
    (FREE * 40, -36, None, (1, 5, 0, 0, 1, ["35"]), "40 pulls since the last coat. 36 past the coat line: coat first."),
    (FREE * 14, -13, None, (1, 4, 0, 0, 1, ["10"]), "14 pulls since the last coat. 13 past the coat line: coat first."),
    ([], 0, (0, 5), (0, 0, 0, 0, 5, []), "No coat on: 5 wanted."),
    ([], 0, (3, 2), (3, 0, 0, 0, 2, []), "3 coats on, 2 more wanted."),
    ([], 0, (1, 2), (1, 0, 0, 0, 2, []), "1 coat on, 2 more wanted."),
    ([], 0, (5, 0), (5, 0, 0, 0, 0, []), "5 coats on."),
    ([], 0, (0, 1), (0, 0, 0, 0, 1, []), "No coat on: 1 wanted."),
    ([], 0, (0, 0), (0, 0, 0, 0, 0, []), "No coat on."),
    ([], 0, (7, 5), (1, 0, 0, 0, 1, ["7", "5"]), "7 coats on, 5 more wanted."),
    ([], 0, (1, 12), (1, 0, 0, 0, 1, ["12"]), "1 coat on, 12 more wanted."),
    (FREE * 4, 0, (2, 1), (3, 4, 0, 0, 1, []), "4 pulls since the last coat. Now: 2 coats on, 1 more wanted."),
    (FREE * 7, -2, (1, 2), (2, 7, 0, 0, 2, []), "7 pulls since the last coat. Now: 1 coat on, 2 more wanted."),
    (
        FREE * 23,
        0,
        (3, 4),
        (2, 3, 0, 0, 1, ["20", "3", "4"]),
        "23 pulls since the last coat. Now: 3 coats on, 4 more wanted.",
    ),
]


def drawn(svg: str) -> tuple[int, int, int, int, int, list[str]]:
    """What can be counted on a tape. A smear has two passes; a dotted ring is a curve, a dotted place is not."""
    paths = re.findall(r'<path class="([^"]+)"[^>]* d="([^"]+)"', svg)
    kinds = [kind for kind, _way in paths]
    return (
        kinds.count("t-wax") // 2,
        kinds.count("t-stroke") + kinds.count("t-off"),
        sum(kind.startswith("t-hard") for kind in kinds),
        sum(kind == "t-faint" and "C" not in way for kind, way in paths),
        kinds.count("t-want"),
        re.findall(r"<text[^>]*>([^<]+)</text>", svg),
    )


@pytest.mark.parametrize(("strokes", "left", "coats", "what", "words"), CASES)
def test_every_case_is_drawn_and_said(strokes, left, coats, what, words):
    svg = tally_svg(strokes, left, "HULL520", coats)
    assert tally_words(strokes, left, coats) == words
    assert drawn(svg) == what
    picture = ElementTree.fromstring(svg)
    assert (picture.get("role"), picture.get("aria-label")) == ("img", words)


def test_golden():
    """The very text of the recipe's picture: a change of it is seen by everyone who reads tapes."""
    tapes = [
        tally_svg(["free", "tight"], 2, "HULL520"),
        tally_svg(["free"] * 4 + ["stuck"] + ["light"], -1, "12.STBD"),
        tally_svg([], 0, "DECK-2B", (2, 1)),
        tally_svg(["free"] * 21, 9, "HULL520"),
    ]
    assert "\n".join(tapes) + "\n" == GOLDEN.read_text()


def test_a_stroke_never_moves_when_another_is_added():
    def strokes(count: int) -> list[str]:
        svg = tally_svg(["free"] * count, 9 - count, "DECK-2B")
        return re.findall(r'class="t-stroke"[^>]* d="([^"]+)"', svg)

    assert strokes(8)[:3] == strokes(3)


def test_a_pull_inks_over_its_own_ghost():
    before = re.findall(r'class="t-faint"[^>]* d="([^"]+)"', tally_svg(["free"], 2, "DECK-2B"))
    after = re.findall(r'class="t-stroke"[^>]* d="([^"]+)"', tally_svg(["free"] * 2, 1, "DECK-2B"))
    assert after[1] == before[0]


def test_every_tool_has_its_own_hand():
    assert tally_svg(["free"], 2, "COAM-A") != tally_svg(["free"], 2, "COAM-B")
    assert all(-1 <= number <= 1 for number in wobble("COAM-A", "tape", 24))


def test_past_the_line_strokes_stand_off_the_tape():
    svg = tally_svg(["free"] * 6, -2, "HATCH3")
    ends = [float(point.split(",")[0]) for point in re.findall(r'points="([^"]+)"', svg)[0].split()]
    off = re.findall(r'class="t-off"[^>]* d="M([\d.]+)', svg)
    assert len(off) == 2
    assert all(float(x) > max(ends) for x in off)


def test_a_code_and_words_cannot_break_out_of_the_picture():
    svg = tally_svg(["free"], 1, '"><script>', None)
    assert "<script" not in svg


def test_words_follow_the_language():
    with translation.override(None):
        assert tally_words([], 1).startswith("No pull")
