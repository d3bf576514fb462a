"""How wide letters are: measured here as they are drawn, and made to fit."""

import pytest

from shared.paper import document, letters
from tests.shared.paper.needs import pango

LONG = "Sea kayak 520 deck, second mold, with the recess for the day hatch and the fittings of the rudder"


def drawn_mm(text, size, weight=letters.PLAIN):
    style = f'style="margin:0;font:{weight} {size}mm/1 Shop Paper;white-space:nowrap;float:left"'
    page = document.laid_out(f"<p {style}>{text}</p>", css="@page { size: 300mm 30mm; margin: 0 }").pages[0]
    (drawn,) = [box for box in page._page_box.descendants() if getattr(box, "text", "") == text]
    return drawn.width * 25.4 / 96


@pango
@pytest.mark.parametrize("weight", letters.FILES)
def test_what_is_measured_is_what_is_drawn(weight):
    text = "AVATAR.To fil - Wyß 12,5 łódź ÅÄÖ"
    assert drawn_mm(text, 10, weight) == pytest.approx(letters.width(text, 10, weight), abs=0.05)


def test_no_line_is_wider_than_its_room():
    for wide in (20, 25, 60):
        lines = letters.wrapped(LONG, wide, 4)
        assert " ".join(lines) == LONG
        assert all(letters.width(line, 4) <= wide for line in lines)


def test_a_word_wider_than_its_line_is_cut_and_nothing_of_it_is_lost():
    word = "W" * 40
    lines = letters.wrapped(f"a {word} b", 20, 4)
    assert "".join(lines).replace(" ", "") == f"a{word}b"
    assert all(letters.width(line, 4) <= 20 for line in lines)


def test_a_text_is_as_large_as_it_fits():
    assert letters.fitted("HATCH7", 60, largest=8, smallest=4).size == 8
    small = letters.fitted(LONG, 60, largest=8, smallest=2, lines=2)
    assert len(small.lines) == 2
    assert all(letters.width(line, small.size) <= 60 for line in small.lines)
    assert letters.fitted(LONG, 60, largest=small.size + 0.1, smallest=small.size + 0.1, lines=2) is None


def test_words_are_not_cut_while_a_smaller_size_keeps_them_whole():
    one = letters.fitted("Countersunk", 30, largest=12, smallest=3, lines=2)
    assert one.lines == ("Countersunk",)


def test_letters_of_other_scripts_get_room_of_their_own():
    assert letters.width("船", 4) == 4
    assert letters.width("🛶", 10) == 13


@pango
@pytest.mark.parametrize("text", ["🛶" * 20, "⸻", "⸺", "船" * 8])
def test_letters_that_the_font_lacks_are_hardly_wider_than_is_reckoned(text):
    assert drawn_mm(text, 10) <= letters.width(text, 10)
