"""The sheet of a tool: one page of paper, read back as text."""

import re

import pypdfium2
import pytest
import zxingcpp
from django.utils import translation

from shared import libraries
from shared.paper import document
from tests.shared.paper.needs import pango
from tests.tooling.pictures import add
from tests.tooling.views.full_sheet import fullest
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Person, Place
from tooling.selectors.tool import found
from tooling.selectors.tool_sheet import sheet_of
from tooling.services.on_paper import PAPERS
from tooling.services.tool_sheet import draw

pytestmark = [pytest.mark.django_db, pango]
# How the page is laid out, whatever database the words came from.
paper_alone = pytest.mark.sqlite
if not libraries.missing():
    from weasyprint.layout import table


def pages(pdf: bytes) -> list[str]:
    """The words of each page."""
    document = pypdfium2.PdfDocument(pdf)
    return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


@pytest.fixture
def printed(sign_in):
    """The words of a sheet, which is one page."""
    client = sign_in("reader")

    def words(code, **query):
        reply = client.get(f"/tools/{code}/sheet.pdf", query)
        assert (reply.status_code, reply["Content-Type"]) == (200, "application/pdf")
        (text,) = pages(reply.content)
        return text

    return words


def test_it_says_the_state_with_its_date(printed, morning):
    mold("DECK-2B", morning, pulls=2, name="Sea kayak 520, deck", place=Place.objects.create(code="B2", name="rack B"))
    text = printed("DECK-2B")
    for words in (
        "DECK-2B", "Sea kayak 520, deck", "State as of 12 May 2026, 07:40", "Ready: 2 pulls, then wax.",
        "For go or no-go scan the code.", "rack B (B2)", "WAX, Paste wax",
        "Saltbatch Boatworks · printed 12 May 2026, 07:40 by Test reader", "1 of 1",
    ):  # fmt: skip
        assert words in text


def test_it_says_what_was_done_to_it_in_all_and_crosses_a_held_one(printed, morning, monkeypatch):
    pages_drawn = []
    laid_out = document.laid_out
    monkeypatch.setattr(document, "laid_out", lambda html, **more: pages_drawn.append(html) or laid_out(html, **more))
    tool = mold("DECK", morning, pulls=2)
    assert "Pulls in all 2 Coats in all 1" in printed("DECK")
    do("hold", tool, reason="a chip")
    printed("DECK")
    assert [page.count('class="crossed"><svg') for page in pages_drawn] == [0, 1]


def test_every_time_on_it_has_its_date(printed, morning):
    tool = mold("DECK", morning)
    do("lay_up", tool, at=ago(minutes=20), part="SK-1", serial="7")
    do("hold", tool, at=ago(minutes=5), reason="a chip")
    text = printed("DECK")
    assert "Held: somebody stopped it." in text
    assert "Since 12 May 2026, 07:35: “a chip”" in text
    assert "Lay-up started 12 May 2026, 07:20." in text
    assert not re.search(r"today|yesterday|tomorrow", text)


def test_voids_and_corrections_stay_to_be_seen(printed, morning, lead):
    tool = mold("DECK", morning, pulls=2)
    wrong = tool.entries.filter(kind="pull").first()
    do("correct", wrong, by=lead, changes={"came_off": "tight"}, reason="tapped wrong")
    do("void", tool.entries.filter(kind="pull").last(), by=lead, reason="written twice")
    text = printed("DECK")
    assert "Corrected 12 May 2026, 07:40 by Test lead: tapped wrong. Before: Pulled, free." in text
    assert "Void 12 May 2026, 07:40 by Test lead: “written twice”. Not counted." in text


def test_the_check_value_is_the_head_of_the_chain(printed, morning):
    tool = mold("DECK", morning, pulls=3)
    head = found("DECK").summary.head
    groups = " ".join(head[start : start + 8] for start in range(0, 64, 8))
    assert f"Check value of its history after {tool.entries.count()} entries." in printed("DECK")
    assert groups in printed("DECK")


@paper_alone
def test_cautions_are_whole_where_they_fit_and_short_where_not(printed, morning):
    mold("DECK", morning)
    whole = printed("DECK")
    for words in (
        "never mixed directly with accelerator",
        "closed can",
        "Compressed air and water",
        "does not go in an oven",
    ):
        assert words in whole
    tool = fullest(morning)
    short = printed(tool.code)
    assert "Catalyst blinds: eye protection." in short
    assert "accelerator" not in short


@paper_alone
def test_no_deed_stands_on_paper_as_the_next(printed, morning):
    mold("DECK", morning)
    mold("COAM-TRIM", None, kind=Kind.TRIM_MASK, pulls=None)
    for code in ("DECK", "COAM-TRIM"):
        assert "What comes next" not in printed(code)
    do("strip", mold("BARE", morning))
    assert "What comes next: Put on" in printed("BARE")


@paper_alone
@pytest.mark.parametrize(("units", "paper"), [("metric", "a4"), ("us", "letter")])
def test_the_longest_of_everything_is_one_page(printed, morning, reader, units, paper):
    Person.objects.filter(pk=reader.pk).update(units=units)
    tool = fullest(morning)
    add(tool)
    text = printed(tool.code, paper=paper)
    for words in (
        tool.code,
        "State as of 12 May 2026, 07:40",
        "Held:",
        "WARNING",
        "Check value of its history",
        "… and",
    ):
        assert words in text


@paper_alone
def test_the_fullest_is_quick(printed, morning, monkeypatch):
    """No widths of tables are found out by measuring every word, and few rooms are tried."""
    tried, measured = [], []
    laid_out, widths = document.laid_out, table.table_and_columns_preferred_widths
    monkeypatch.setattr(document, "laid_out", lambda *args, **more: tried.append(1) or laid_out(*args, **more))
    monkeypatch.setattr(
        table, "table_and_columns_preferred_widths", lambda *args, **more: measured.append(1) or widths(*args, **more)
    )
    printed(fullest(morning).code)
    assert (len(tried) <= 4, measured) == (True, [])


@paper_alone
def test_sizes_are_written_with_a_point_whatever_the_language(morning, reader):
    mold("DECK", morning)
    with translation.override("de"):
        drawn = draw(sheet_of(found("DECK"), ago()), who="x", units="us", paper=PAPERS["letter"])
    assert pypdfium2.PdfDocument(drawn)[0].get_size() == pytest.approx((612, 792), abs=0.5)


def test_the_reader_s_units_and_paper(printed, morning, reader):
    add_kinds = {"mass_kg": "38", "max_service_c": "70", "length_mm": "5350"}
    mold("DECK", morning, **add_kinds)
    assert "38 kg" in printed("DECK")
    Person.objects.filter(pk=reader.pk).update(units="us")
    text = printed("DECK")
    assert [words in text for words in ("158 °F", " lb", " kg")] == [True, True, False]


@paper_alone
def test_letter_where_people_count_in_inches(sign_in, morning):
    mold("DECK", morning)
    client = sign_in("hand", units="us")
    sizes = {
        query: pypdfium2.PdfDocument(client.get("/tools/DECK/sheet.pdf" + query).content)[0].get_size()
        for query in ("", "?paper=a4", "?paper=nonsense")
    }
    assert sizes[""] == sizes["?paper=nonsense"] == pytest.approx((612, 792), abs=0.5)
    assert sizes["?paper=a4"] == pytest.approx((595.3, 841.9), abs=0.5)


@paper_alone
def test_words_that_look_like_markup_are_words(printed, morning):
    name = '<img src="http://192.0.2.7/x.png"><link rel=stylesheet href=//192.0.2.7/a.css>'
    tool = mold("DECK", morning, name=name, note="<style>*{display:none}</style>&amp;")
    do("take_note", tool, note="<iframe src=file:///etc/passwd></iframe>")
    text = printed("DECK")
    assert '<img src="http://192.0.2.7/x.png">' in text
    assert "<style>*{display:none}</style>&amp;" in text
    assert "file:///etc/passwd" in text


@paper_alone
def test_a_trim_mask_and_a_plug(printed, morning):
    mold("TRIM", None, kind=Kind.TRIM_MASK, pulls=None)
    mold("PLUG", morning, kind=Kind.PLUG)
    assert "no gloves at a turning cutter" in printed("TRIM")
    assert "Nothing that was written down speaks against its use." in printed("TRIM")
    assert "dust of glass and carbon" in printed("PLUG")


def test_a_lost_file_takes_no_sheet_away(printed, morning, settings, tmp_path):
    tool = mold("DECK", morning)
    add(tool)
    settings.MEDIA_ROOT = tmp_path
    assert "DECK" in printed("DECK")


@paper_alone
def test_a_phone_reads_its_code(sign_in, morning, settings):
    settings.SITE_URL = "http://192.168.1.20:8000"
    mold("12.STBD", morning)
    page = pypdfium2.PdfDocument(sign_in("reader").get("/tools/12.STBD/sheet.pdf").content)[0]
    assert [one.text for one in zxingcpp.read_barcodes(page.render(scale=150 / 72).to_pil())] == [
        "HTTP://192.168.1.20:8000/T/12.STBD/"
    ]


def test_without_pango_a_page_says_what_to_install(sign_in, morning, monkeypatch):
    mold("DECK", morning)
    monkeypatch.setattr(libraries, "missing", lambda: ["pango-1.0"])
    reply = sign_in("reader").get("/tools/DECK/sheet.pdf")
    assert reply.status_code == 503
    assert "sudo apt-get install libpango-1.0-0" in reply.text


def test_an_unknown_code_and_an_older_one(sign_in, morning):
    mold("DECK", morning).aliases.create(code="OLD")
    client = sign_in("reader")
    assert client.get("/tools/NONE/sheet.pdf").status_code == 404
    assert client.get("/tools/OLD/sheet.pdf").url == "/tools/DECK/sheet.pdf"
    assert client.get("/tools/OLD/sheet.pdf?paper=letter").url == "/tools/DECK/sheet.pdf?paper=letter"


def test_as_many_queries_for_a_long_history(morning, django_assert_num_queries):
    tool = mold("DECK", morning, pulls=1)
    with django_assert_num_queries(16):
        sheet_of(found("DECK"), ago())
    for number in range(20):
        do("log_pull", tool, at=ago(minutes=200 - number), came_off="tight")
    with django_assert_num_queries(16):
        sheet_of(found("DECK"), ago())
