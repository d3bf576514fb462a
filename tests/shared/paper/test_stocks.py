"""What is printed on. Cards and sheets are those of ISO/IEC 7810 and ISO 216; places were worked out by hand."""

import pytest

from shared.errors import Refused
from shared.paper import stocks
from shared.paper.boxes import Tag


@pytest.mark.parametrize(
    ("name", "page"),
    [
        ("card", (85.60, 53.98)),  # ISO/IEC 7810:2019, ID-1
        ("label", (100, 60)), ("a7", (74, 105)), ("a4-sheet", (210, 297)),  # ISO 216:2007
        ("letter-sheet", (215.9, 279.4)),  # 8 1/2 x 11 in of 25.4 mm
    ],
)  # fmt: skip
def test_pages_have_the_sizes_of_the_standards(name, page):
    assert stocks.stock(name).page == page


def test_an_a4_sheet_has_eight_labels_in_its_middle():
    # (210 - 2 * 100) / 2 = 5 from the left, (297 - 4 * 60) / 2 = 28.5 from the top
    assert stocks.stock("a4-sheet").places == [
        (5, 28.5), (105, 28.5), (5, 88.5), (105, 88.5), (5, 148.5), (105, 148.5), (5, 208.5), (105, 208.5),
    ]  # fmt: skip


def test_a_letter_sheet_has_eight_labels_in_its_middle():
    # (215.9 - 200) / 2 = 7.95, (279.4 - 240) / 2 = 19.7
    places = stocks.stock("letter-sheet").places
    assert len(places) == 8
    assert places[0] == pytest.approx((7.95, 19.7))
    assert places[7] == pytest.approx((107.95, 199.7))


@pytest.mark.parametrize(
    ("name", "size", "columns", "rows"),
    [
        ("a4-sheet", (90, 50), 2, 5),  # 200 / 90 = 2.2, 287 / 50 = 5.7
        ("a4-sheet", (50, 30), 4, 9),
        ("a4-sheet", (200, 287), 1, 1),
        ("a4-sheet", (40, 41), 5, 7),
        ("letter-sheet", (85.6, 53.98), 2, 4),  # 205.9 / 85.6 = 2.4, 269.4 / 53.98 = 4.99
    ],
)
def test_a_sheet_is_filled_with_a_size(name, size, columns, rows):
    filled = stocks.stock(name, size)
    assert (filled.columns, filled.rows) == (columns, rows)
    (left, top), (right, bottom) = filled.places[0], filled.places[-1]
    assert min(left, top) >= 5
    assert filled.page[0] - right - filled.wide == pytest.approx(left)
    assert filled.page[1] - bottom - filled.high == pytest.approx(top)


def test_tags_begin_at_a_place_of_a_used_sheet():
    tags = [Tag(100, 60, ())] * 4
    pages = list(stocks.stock("a4-sheet").pages(tags, start=7))
    assert [page.count('class="tag"') for page in pages] == [2, 2]
    assert "left:5.00mm;top:208.50mm" in pages[0]
    assert "left:5.00mm;top:28.50mm" in pages[1]
    assert len(list(stocks.stock("label").pages(tags))) == 4


def test_cut_marks_are_outside_of_every_tag_and_on_the_sheet():
    for stock in (stocks.stock("a4-sheet"), stocks.stock("letter-sheet"), stocks.stock("a4-sheet", (40, 41))):
        (page,) = stock.pages([Tag(stock.wide, stock.high, ())], cut_marks=True)
        assert page.count('class="cut"') == 2 * (stock.columns + 1) + 2 * (stock.rows + 1)
        left, top = stock.corner
        for x, y, wide, high in stock.marks():
            across = x + wide <= left - 1 or x >= stock.page[0] - left + 1
            along = y + high <= top - 1 or y >= stock.page[1] - top + 1
            assert across or along
            assert min(x, y) >= 0.9
            assert x + wide <= stock.page[0] - 0.9
            assert y + high <= stock.page[1] - 0.9


@pytest.mark.parametrize("start", [0, 9, -1])
def test_a_place_that_a_sheet_does_not_have_is_refused(start):
    stocks.stock("a4-sheet").check_start(8)
    with pytest.raises(Refused, match="places 1 to 8 here"):
        stocks.stock("a4-sheet").check_start(start)


def test_a_page_that_is_the_tag_has_no_places_and_no_marks():
    stocks.stock("card").check_start(1)
    with pytest.raises(Refused, match="only a sheet has places"):
        stocks.stock("card").check_start(2)
    with pytest.raises(Refused, match="nothing to cut"):
        stocks.stock("label").check_cut_marks()
    stocks.stock("a4-sheet").check_cut_marks()


@pytest.mark.parametrize("text", ["90x50", " 90 x 50 ", "90×50", "90 mm x 50 mm", "90,0X50.0", "90*50mm"])
def test_a_size_is_read_as_people_type_it(text):
    assert stocks.read_size(text) == (90, 50)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("90", "no size"), ("", "no size"), ("wide", "no size"), ("-90x50", "no size"), ("9e3x50", "no size"),
        ("90x50x10", "no size"), ("19x50", "20 to 300 mm; these are 19 and 50"), ("90x301", "these are 90 and 301"),
    ],
)  # fmt: skip
def test_what_is_no_size_is_refused(text, said):
    with pytest.raises(Refused, match=said):
        stocks.read_size(text)


def test_a_stock_that_there_is_not_is_refused_with_those_that_there_are():
    with pytest.raises(Refused, match="card, label, a7, a4-sheet, letter-sheet; or give a size"):
        stocks.stock("a5")
    with pytest.raises(Refused, match="has its own size"):
        stocks.stock("card", (90, 50))
    with pytest.raises(Refused, match="does not fit on the sheet a4-sheet"):
        stocks.stock("a4-sheet", (201, 50))
    assert stocks.stock(size=(90, 50)) == stocks.stock("custom", (90, 50))
    assert stocks.stock(size=(90, 50)).page == (90, 50)
