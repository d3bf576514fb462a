"""What the page of a trim mask shows of how it sits and of its cuts, and where its sheet is found."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.views.works import ago, do, mold
from tests.trimfixtures.views.trim_masks import trim_mask
from tooling.models import Kind
from trimfixtures.models import Feature, Mask

pytestmark = pytest.mark.django_db


def test_its_page_says_how_it_sits_and_its_cuts_in_order(sign_in, morning, lead):
    trim_mask(lead)
    text = sign_in("hand").get("/tools/COAM-TRIM/").text.replace("\N{NO-BREAK SPACE}", " ")
    for words in (
        "Net cut, left-hand.", "Pin in the bow hole", "C-8 is gone: get one.",
        "A drill grabs and spins", "Feed a router against its turn", "Peroxide catalyst blinds",
        "to the left of the way the router goes", "Never with the turn", "Hold or tab the piece that comes free.",
        "Show the working", "± 0.3 mm", 'href="/tools/COAM-TRIM/trim.pdf"',
    ):  # fmt: skip
        assert words in text
    assert text.index(">1</span> Bolt hole") < text.index(">2</span> Cockpit")
    assert text.count('<svg class="drawn section"') == 2
    assert text.index("How it sits") < text.index("Its home, and what it is")


def test_one_that_nobody_has_described_says_so(sign_in, morning):
    mold("BARE", None, kind=Kind.TRIM_MASK, pulls=None)
    text = sign_in("hand").get("/tools/BARE/").text
    assert "Nobody has said how it sits yet." in text
    assert "Nobody has written its cuts down yet." in text
    assert "no gloves at a turning cutter" in text


def test_what_is_fetched_and_where_it_is_changed_stands_first(sign_in, morning, lead):
    tool = trim_mask(lead)
    client = sign_in("hand")
    text = client.get("/tools/COAM-TRIM/").text.replace("\N{NO-BREAK SPACE}", " ")
    assert "Pilot drill Ø 4 mm, drill Ø 6 mm, slip bushing, C-8 (gone), FB-20</p>" in text
    assert "1 change of tools." in text
    assert '<a class="link-line" href="#cut-2">2 Cockpit</a>' in text
    assert 'id="cut-2"' in text
    assert text.index("To fetch") < text.index("How it sits")
    Feature.objects.filter(mask__tool=tool, order=1).delete()
    assert "To fetch" not in client.get("/tools/COAM-TRIM/").text


def test_a_cut_that_cannot_be_drawn_in_section_says_why(sign_in, morning, lead):
    trim_mask(lead)
    Feature.objects.filter(order=2).update(cutter=None)
    text = sign_in("hand").get("/tools/COAM-TRIM/").text
    assert text.count('<svg class="drawn section"') == 1
    assert "Not drawn in section:" in text


def test_the_page_of_a_part_leads_to_its_sheet(sign_in, morning, lead):
    trim_mask(lead)
    text = sign_in("hand").get("/parts/COAM-TRIM/DECK/").text
    assert 'href="/tools/COAM-TRIM/trim.pdf?part=COAM-TRIM%2FDECK&amp;revision=B"' in text


def test_as_many_queries_however_many_cuts_and_entries(sign_in, morning, lead):
    tool, client = trim_mask(lead), sign_in("hand")

    def asked():
        with CaptureQueriesContext(connection) as found:
            assert client.get("/tools/COAM-TRIM/").status_code == 200
        return len(found)

    do("tell_lead", tool, note="A scratch", at=ago(hours=9))
    once = asked()
    mask = Mask.objects.get()
    Feature.objects.bulk_create(Feature(mask=mask, kind="hole", method="drill", cutter_mm=6) for _ in range(9))
    for hours in range(5):
        do("tell_lead", tool, note="A scratch", at=ago(hours=hours))
    assert asked() == once
