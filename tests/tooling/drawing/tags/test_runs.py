"""Words of two weights, broken into lines and escaped."""

from shared.paper.letters import BOLD, PLAIN, width
from tooling.drawing.tags.runs import balanced, fit, plain, tidy, words_of


def said(text):
    return " ".join(word for row in text.rows for word, _weight in row)


def test_a_line_is_never_wider_than_its_room():
    for wide in (8, 20, 55):
        text = fit(words_of(("Mold home", PLAIN), ("rack B, shelf 2" + "W" * 30, BOLD)), wide, 3)
        assert text.wide <= wide
        assert said(text).replace(" ", "") == "MoldhomerackB,shelf2" + "W" * 30


def test_letters_that_a_page_reads_otherwise_are_escaped():
    assert "&lt;b&gt; &amp; “x”" in plain("<b> & “x”", 50, 3).html()
    assert "<b>1 &lt; 2</b>" in fit(words_of(("x", PLAIN), ("1 < 2", BOLD)), 50, 3).html()


def test_a_number_stays_with_its_unit_and_what_has_no_shape_goes():
    number = "60\N{NO-BREAK SPACE}°C"
    text = plain(f"At most {number}", width("At most 60", 3) + 0.1, 3)
    assert [row[-1][0] for row in text.rows] == ["most", number]
    assert tidy(" a\x07\n  b\te\N{COMBINING ACUTE ACCENT} ") == "a b é"
    assert tidy("KO\N{RIGHT-TO-LEFT OVERRIDE}LD hull\N{SOFT HYPHEN}form") == "KOLD hullform"
    assert tidy("क्\N{ZERO WIDTH JOINER}ष") == "क्\N{ZERO WIDTH JOINER}ष"


def test_what_is_cut_says_that_there_is_more():
    text = plain("one two three four five six", 12, 3, most=2)
    assert (len(text.rows), text.cut, said(text)[-1]) == (2, True, "…")
    assert text.wide <= 12
    assert plain("W" * 90, 9, 3, most=1).wide <= 9
    whole = plain("one two", 30, 3, most=1)
    assert (said(whole), whole.cut) == ("one two", False)


def test_a_sign_between_pieces_never_begins_or_ends_a_line():
    words = words_of(("Plug", PLAIN), ("·", PLAIN), ("home", PLAIN), ("·", PLAIN), ("LOFT", PLAIN))
    for wide in range(6, 40):
        for row in fit(words, wide, 3).rows:
            assert "·" not in (row[0][0], row[-1][0])


def test_few_words_stand_on_even_lines():
    rows = balanced("pulls since wax", 14, [3.0]).rows
    assert [" ".join(word for word, _ in row) for row in rows] == ["pulls", "since wax"]
