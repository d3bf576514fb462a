"""The sheet of one check of a cut edge: read back as text."""

from datetime import date

import pypdfium2
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared import libraries
from tests.shared.paper.needs import pango
from tests.tooling.views.test_set_sheet import in_order
from tests.tooling.views.test_tool_sheet import pages
from tests.tooling.views.works import ago, mold
from tests.trimfixtures.views.test_edge_checks import check, rim, used
from tooling.services import deeds as of_tools
from trimfixtures.selectors.check_sheet import check_sheet_of
from trimfixtures.words.check_sheet import EARLIER, check_sheet

pytestmark = pytest.mark.django_db
__all__ = ["rim"]  # the same trim mask
PAPER = "/tools/RIM/checks.pdf"


def read(reply):
    return " ".join(pages(reply.getvalue())).replace("\N{NO-BREAK SPACE}", " ")


@pango
def test_a_failed_check_with_all_that_was_written_down(sign_in, rim, hand):
    check(rim, 29, "bow @ 0: +0.2; stern @ 1000: in")
    used(rim, 20)
    check(
        rim, 19, "bow @ 0: +0.61; stern @ 1000: -0.1", passed=False, serial="0173", part="SK520-DECK",
        instrument="Caliper 3", calibrated_until=date(2026, 5, 1), note="after the gouge",
    )  # fmt: skip
    reply = sign_in("reader").get(PAPER)
    assert (reply.status_code, reply["Content-Type"]) == (200, "application/pdf")
    assert in_order(
        read(reply), "Check of the cut edge", "RIM", "Checked 11 May 2026, 12:40", "Failed: 2 points, 1 out",
        "had ended: good until 1 May 2026", "Check value of its history after 3 entries", "Part SK520-DECK",
        "Serial number 0173", "Measured with Caliper 3", "Calibrated until 1 May 2026, had ended", "Tolerance ±0.5 mm",
        "Parts cut by then 10", "entry 3", "Note after the gouge", "bow", "+0.61 mm", "out: material left",
        "+0.2", "The part from above, scale 1 : 10", "10 parts cut so far", "is past its tolerance", "3 readings. Mean",
        "Fewer than 25 readings", "material left cut too deep", "1 of 2", "Earlier checks", "11 May 2026, 02:40",
        "Passed: 2 points, none out", "CAUTION", "splinters cut: gloves",
        "Follow the supplier’s data sheet and the local code", "2 of 2",
    )  # fmt: skip


@pango
def test_an_earlier_one_says_that_it_is_not_the_last_in_inches_on_letter(sign_in, rim):
    first = check(rim, 29, "bow @ 0: in", limit="", gauge="master rim")
    check(rim, 9, "bow @ 0: +1.27", passed=False)
    reply = sign_in("reader", units="us").get(PAPER, {"check": first.number})
    text = read(reply)
    assert "It is not the last: 1 check was made since, on 11 May 2026, 22:40 (failed)." in text
    assert "Held against master rim" in text
    assert "It is the first that was written down." in text
    assert (" mm" in text, "78.74 in all around" in text) == (False, True)
    assert pypdfium2.PdfDocument(reply.getvalue())[0].get_size() == pytest.approx((612, 792), abs=0.5)


def test_what_is_no_check_is_refused_and_no_other_taken_for_it(sign_in, rim, monkeypatch):
    client = sign_in("reader")
    assert client.get(PAPER).url == "/tools/RIM/checks/"
    wrong = check(rim, 9, "bow: 0.1")
    of_tools.void(wrong, reason="another part", at=ago(hours=1), by=None, recorded_by=None)
    stands = check(rim, 5, "bow: 0.1")
    for number in (wrong.number, 99, "x", "9" * 40):
        reply = client.get(PAPER, {"check": number})
        assert (reply.status_code, "No check with that number stands" in reply.text) == (404, True), number
    assert client.get("/tools/rim/checks.pdf?check=1&paper=a4").url == f"{PAPER}?check=1&paper=a4"
    assert f'href="{PAPER}?check={stands.number}"' in client.get("/tools/RIM/checks/").text
    mold("DECK", None, pulls=None)
    assert client.get("/tools/DECK/checks.pdf").status_code == 404
    monkeypatch.setattr(libraries, "missing", lambda: ["pango-1.0"])
    reply = client.get(PAPER)
    assert (reply.status_code, "sudo apt-get install" in reply.text) == (503, True)


def test_points_of_which_the_same_is_said_stand_together_and_old_checks_are_counted(rim):
    for number in range(EARLIER + 3):
        check(rim, 40 - number, "bow: 0.1; stern: 0.1; keel: 0.9", passed=False)
    with CaptureQueriesContext(connection) as asked:
        said = check_sheet(check_sheet_of(rim, ago(seconds=-1)), "metric")
    assert [one.names for one in said.drifts] == [["bow", "stern"], ["keel"]]
    assert said.taken == "By all checks."
    assert said.drifts[0].readings == f"{EARLIER + 3} readings of each"
    assert (len(said.earlier), said.more) == (EARLIER, "… and 2 checks before these.")
    assert len(asked) <= 7
