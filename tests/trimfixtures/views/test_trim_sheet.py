"""The trim sheet: read back as text."""

import pypdfium2
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared import libraries
from tests.shared.paper.needs import pango
from tests.tooling.views.test_set_sheet import in_order
from tests.tooling.views.test_tool_sheet import pages
from tests.tooling.views.works import ago, do, mold
from tests.trimfixtures.views.trim_masks import trim_mask
from tooling.models import Kind
from trimfixtures.models import Feature, Mask
from trimfixtures.selectors.trim import sheet_of
from trimfixtures.services.trim_sheet import _blocks, _drawing
from trimfixtures.words.trim_sheet import across

pytestmark = pytest.mark.django_db


@pytest.fixture
def coaming(morning, lead):
    return trim_mask(lead)


@pango
def test_it_says_how_it_sits_and_its_cuts_in_order(sign_in, coaming):
    reply = sign_in("reader").get("/tools/COAM-TRIM/trim.pdf")
    assert (reply.status_code, reply["Content-Type"]) == (200, "application/pdf")
    found = pages(reply.getvalue())
    text = " ".join(found).replace("\N{NO-BREAK SPACE}", " ")
    assert in_order(
        text, "COAM-TRIM", "Net cut, left-hand", "Part Serial number",
        "tool sets of COAM-TRIM/DECK A, B (not confirmed)",
        "As of 12 May 2026, 07:40: Nothing that was written down speaks against its use.", "Scan the code",
        "WARNING", "Trimming: Respirator", "Sealing the cut edge: Catalyst blinds",
        "To fetch", "Pilot drill Ø 4 mm, drill Ø 6 mm, slip bushing: 1", "C-8 (gone), FB-20: 2", "1 change of tools.",
        "How it sits", "Pin in the bow hole", "Two toggle clamps", "Epoxy", "After every 25 parts, at bow, stern",
        "No words for the lift", "try by hand", "no gloves at a turning cutter", "Peroxide catalyst",
        "Follow the supplier’s data sheet and the local code.", "to the left of the way the router goes",
        "Bolt hole Hole, drill", "Drill or reamer Ø 6 mm", "Slip bushing", "Ø 4 mm first; then change the slip bushing",
        "Pine block", "x 430 mm, y 30 mm", "Cockpit Cut-out, router with a guide bushing, net", "C-8 is gone: get one.",
        "Hold or tab the piece that comes free. Lift nothing", "C-8, Ø 8 mm",
        "FB-20, Ø 20 mm, measures 19.96 mm", "The piece under the trim mask", "6 mm from the guiding edge",
        "800 × 400 mm, corners R 90 mm", "± 0.3 mm", "812 × 412 mm",
    )  # fmt: skip
    # 860 mm fill 248 of the 340 that the plan is wide: at 1 : 10 it is 117.9 mm wide, and there is room for 158.
    assert "Scale 1.5 : 1 across" in text
    assert "The part from above, scale 1 : 8." in text
    assert [f"{number} of {len(found)}" in page for number, page in enumerate(found, 1)] == [True] * len(found)


@pango
def test_for_one_part_in_the_reader_s_units(sign_in, coaming):
    do("hold", coaming, reason="worn", at=ago(minutes=2))
    reply = sign_in("reader", units="us").get(
        "/tools/COAM-TRIM/trim.pdf", {"part": "coam-trim/deck", "revision": "b", "serial": " 0173 "}
    )
    text = " ".join(pages(reply.getvalue())).replace("\N{NO-BREAK SPACE}", " ")
    for words in (
        "COAM-TRIM/DECK B", "Sea kayak deck", "0173", "Do not trim with it.", "Not confirmed for", "12 May 2026, 07:38",
        "Ø 0.315 in", "31.496 × 15.748 in", "± 0.0118 in",
    ):  # fmt: skip
        assert words in text
    assert " mm" not in text
    assert pypdfium2.PdfDocument(reply.getvalue())[0].get_size() == pytest.approx((612, 792), abs=0.5)


@pango
def test_of_a_trim_mask_that_nobody_has_described_it_says_so(sign_in, morning):
    mold("BARE", None, kind=Kind.TRIM_MASK, pulls=None)
    text = " ".join(pages(sign_in("reader").get("/tools/bare/trim.pdf", follow=True).getvalue()))
    assert "Nobody has said how it sits: ask the lead before the cut." in text
    assert "Nobody has written its cuts down" in text


def test_what_cannot_be_printed_is_a_page_that_says_what_to_do(sign_in, coaming, morning, monkeypatch):
    client = sign_in("reader")
    mold("DECK-2", morning)
    assert client.get("/tools/DECK-2/trim.pdf").url == "/tools/DECK-2/"
    for query, words in (
        ("part=NO-SUCH", "no part with the number “NO-SUCH”"),
        ("part=COAM-TRIM/DECK&revision=Z", "no revision Z of a part COAM-TRIM/DECK"),
    ):
        reply = client.get(f"/tools/COAM-TRIM/trim.pdf?{query}")
        assert (reply.status_code, words in reply.text) == (404, True), query
    assert client.get("/tools/NO-SUCH/trim.pdf").status_code == 404
    monkeypatch.setattr(libraries, "missing", lambda: ["pango-1.0"])
    reply = client.get("/tools/COAM-TRIM/trim.pdf")
    assert (reply.status_code, "sudo apt-get install" in reply.text) == (503, True)


def test_a_section_stands_at_a_scale_that_is_said_in_a_word(coaming):
    of = sheet_of(coaming, ago(seconds=-1))
    drilled, routed = (_drawing(cut, "metric") for cut in of.cuts)
    # A bushing of 20 mm takes 150 of the 340 that the picture is wide: at 1.5 : 1 that is 30 mm of 68.
    assert (routed["wide"], routed["scale"]) == (pytest.approx(68), across(1.5))
    assert drilled["wide"] <= 80
    assert across(0.25) == "Scale 1 : 4 across; heights are no sizes."


def test_no_cut_is_left_over_on_a_page_of_its_own():
    assert [_blocks(list(range(count))) for count in range(5)] == [
        [[]], [[0]], [[0, 1]], [[0], [1, 2]], [[0], [1], [2, 3]],
    ]  # fmt: skip


def test_as_many_queries_for_two_cuts_as_for_twenty(coaming):
    at = ago(seconds=-1)
    with CaptureQueriesContext(connection) as few:
        assert len(sheet_of(coaming, at).cuts) == 2
    mask = Mask.objects.get()
    Feature.objects.bulk_create(Feature(mask=mask, kind="hole", method="drill", cutter_mm=6) for _ in range(18))
    with CaptureQueriesContext(connection) as many:
        assert len(sheet_of(coaming, at).cuts) == 20
    assert len(many) == len(few)
