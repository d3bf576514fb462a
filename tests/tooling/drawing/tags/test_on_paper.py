"""A handful of tags as PDF: what stands on the page is what the tag says, in its own font."""

import pypdfium2
import pytest

from shared.paper import document
from tests.guards.tree import ROOT
from tests.shared.paper.needs import pango
from tests.tooling.drawing.tags import said
from tooling.drawing.tags import draw

CSS = (ROOT / "shared/paper/tag.css").read_text()


def on_page(facts, size, **options) -> str:
    tag = draw(facts, *size, qr=said.matrix(), **options)
    page = document.page_of(
        "Tag", [f'<div class="paper" style="width:{size[0]}mm;height:{size[1]}mm">{tag.html()}</div>']
    )
    paper = pypdfium2.PdfDocument(document.pdf(page, css=f"{CSS}@page{{size:{size[0]}mm {size[1]}mm;margin:0}}"))
    assert len(paper) == 1
    return " ".join(paper[0].get_textpage().get_text_bounded().replace("\N{NO-BREAK SPACE}", " ").split())


@pango
@pytest.mark.parametrize("stock", said.STOCKS)
def test_a_tool(stock):
    text = on_page(said.tool(system="us"), said.STOCKS[stock])
    assert text.startswith("12.STBD Rowing shell 12, starboard half Right-hand mold · home rack B, shelf 2")
    for words in (
        "Heat it to at most 180.5 °F",
        "About 303 lb",
        "Lift: rack B, shelf 2",
        "gloves, eyes, skin. Parts pop.",
    ):
        assert words in text


@pango
def test_a_place():
    text = on_page(said.place(), said.STOCKS["label"])
    assert text == (
        "12.STBD Rowing shell 12, starboard half In Rowing shell 12, starboard half Height 900 mm At most 137.4 kg"
    )


@pango
def test_a_held_tool():
    text = on_page(said.held(), said.STOCKS["a7"])
    assert text == (
        "12.STBD Held: do not use Rowing shell 12, starboard half Why “Rowing shell 12, starboard half” "
        "Since Wed 23 September 2026, 16:50 · by rack B, shelf 2 "
        "Comes off when someone else has looked at it and freed it."
    )


@pango
def test_letters_are_where_they_were_measured():
    tag = draw(said.tool(length="long"), 100, 60, qr=said.matrix())
    made = document.pdf(document.page_of("Tag", [tag.html()]), css=f"{CSS}@page{{size:100mm 60mm;margin:0}}")
    words = pypdfium2.PdfDocument(made)[0].get_textpage()
    found = [[side * 25.4 / 72 for side in words.get_rect(at)] for at in range(words.count_rects())]
    assert len(found) > 12
    for left, bottom, right, top in found:
        within = (
            box.x - 0.2 <= left
            and right <= box.right + 0.1
            and box.y - 0.5 <= 60 - top
            and 60 - bottom <= box.bottom + 0.5
            for box in tag.boxes
        )
        assert any(within), (left, right, top)
