"""The sheet of a tool set: read back as text."""

import re
from decimal import Decimal

import pypdfium2
import pytest
import zxingcpp
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared import libraries
from tests.shared.paper.needs import pango
from tests.tooling.views.full_set import HARDWARE, fullest_set
from tests.tooling.views.test_tool_sheet import pages
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Part, PartRevision, Place, SetLine, Shop
from tooling.selectors.set_sheet import set_sheet_of
from tooling.words.to_get import ToolWords

pytestmark = [pytest.mark.django_db, pango]


@pytest.fixture
def deck(morning):
    """The deck's set: a mold with an insert in it on the lower shelf, a loose insert above, a mask in another room."""
    Shop.objects.update(week="Mon-Fri 07:00-17:00", hands=2)
    part = Part.objects.create(number="SK520/DECK")
    times = {"layup_minutes": Decimal(150), "in_mold_hours": Decimal(14)}
    revision = PartRevision.objects.create(part=part, revision="B", name="Kayak deck", peak_c=Decimal(62), **times)
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    low, high = (
        Place.objects.create(code=code, name=f"Rack B, shelf {row}", parent=rack, height_mm=Decimal(height))
        for row, (code, height) in enumerate((("B-1", 450), ("B-2", 1200)), 1)
    )
    trim = Place.objects.create(code="TRIM", name="Trim room")
    line(revision, "hardware", item="12 flange clamps")
    line(revision, "hardware", item="two wedges", required=False)
    one = line(
        revision, "mold", mold("DECK-2", morning, pulls=4, place=low, max_service_c=Decimal(70), mass_kg=38, lift="two")
    )
    first = line(revision, "insert", mold("COAM-A", morning, kind=Kind.INSERT, place=trim), order=1)
    do("install", first.tool, mold=one.tool, at=ago(minutes=5))
    line(revision, "insert", mold("HATCH7", morning, kind=Kind.INSERT, place=high), order=2, alternative="rim")
    line(revision, "insert", mold("HATCH8", morning, kind=Kind.INSERT, place=low), order=2, alternative="rim")
    line(revision, "trim_mask", mold("COAM-TRIM", None, kind=Kind.TRIM_MASK, pulls=None, place=trim))
    return revision


def line(revision, role, tool=None, **more):
    return SetLine.objects.create(revision=revision, role=role, tool=tool, **more)


@pytest.fixture
def printed(sign_in):
    """The words of the sheet of the deck, page by page, or of another part."""
    client = sign_in("reader")

    def words(number="SK520/DECK", **query):
        reply = client.get(f"/parts/{number}/set.pdf", query)
        assert (reply.status_code, reply["Content-Type"]) == (200, "application/pdf")
        return pages(reply.content)

    return words


def in_order(text, *words):
    """Each of them stands behind the one before it."""
    at = [text.find(word) for word in words]
    return -1 not in at and at == sorted(at)


def test_it_says_when_it_can_be_laid_up_and_what_comes_first(printed, deck):
    deck.tool_set.filter(alternative="rim").update(required=False)
    first, *_more = printed()
    assert "Start by 14 May 2026," in (by := printed(wanted="2026-05-14T08:00")[0])
    assert "to lay up 14 May 2026, 08:00" in by
    for words in (
        "SK520/DECK", "Revision B: Kayak deck", "Lay-up: 150 min", "In the mold: 14 h", "Peak: 62 °C",
        "As of 12 May 2026, 07:40", "Can be laid up from 12 May 2026,", "if the coat goes on now", "What to do first",
        "12 May 2026, 07:40 to 07:55", "Coat", "hands at work", "1 of",
        "Saltbatch Boatworks · printed 12 May 2026, 07:40 by Test reader",
    ):  # fmt: skip
        assert words in first


def test_the_tools_stand_in_the_order_of_the_racks_each_insert_under_its_mold(printed, deck):
    text = " ".join(printed())
    assert "The mold inserts go in in this order: 1 COAM-A, 2 HATCH7." in text
    # From the top of a rack to its foot, as the page of the racks has it
    got = text[text.index("along the racks") :]
    assert in_order(
        got, "B-2 · Rack B, shelf 2", "HATCH7 Mold insert, goes in as number 2", "B-1 · Rack B, shelf 1", "DECK-2 Mold",
        "COAM-A Mold insert, goes in as number 1, In DECK-2", "TRIM · Trim room", "COAM-TRIM Trim mask", "Hardware",
    )  # fmt: skip
    for words in (
        "Mass: 38 kg, more with the mold inserts in it. Lift: two.",
            "At most 70 °C: DECK-2 itself stands 70 °C.", "or HATCH8, Rack B, shelf 1, usable",
        "12 flange clamps", "two wedges (optional)", "No words for the lift yet: ask the lead.",
        "Tools are heavy and awkward", "never mixed directly with accelerator", "WARNING",
        "no gloves at a turning cutter", "Look at it before the cut.",
    ):  # fmt: skip
        assert words in text
    assert "Ready:" not in text
    assert deck.tool_set.get(tool__code="DECK-2").tool.summary.head[:8] in text


def test_what_lies_nowhere_comes_last_and_every_time_has_its_date(printed, deck):
    tools = {one.what: one.tool for one in deck.tool_set.all()}
    do("lend", tools["DECK-2"], person="the yard next door", at=ago(minutes=3))
    do("hold", tools["COAM-TRIM"], reason="worn", at=ago(minutes=2))
    text = " ".join(printed())
    assert in_order(
        text, "TRIM · Trim room", "Not on the racks: find these first", "DECK-2 Mold, Lent to the yard next door"
    )
    assert "Since 12 May 2026, 07:38: “worn”" in text
    assert not re.search(r"today|yesterday|tomorrow", text)
    assert "What to do first" not in text


def tools_of(revision):
    """What stands beside each tool, by its code."""
    of = set_sheet_of(revision, ago())
    words = ToolWords(of, "metric")
    return {one.tool.code: words.tool(one) for one in of.tools}


def test_nobody_is_asked_to_get_what_is_held_or_lent(deck):
    tools = {one.what: one.tool for one in deck.tool_set.all()}
    do("hold", tools["COAM-TRIM"], reason="worn", at=ago(minutes=2))
    do("lend", tools["DECK-2"], person="the yard next door", at=ago(minutes=3))
    said = tools_of(deck)
    assert {code for code, one in said.items() if one.leave} == {"COAM-TRIM", "DECK-2"}
    assert said["COAM-TRIM"].state == "Leave it. Held: somebody stopped it."
    assert said["DECK-2"].state.startswith("Leave it. Lent")
    assert "Wax first: 4 of 4 pulls done. Put on one coat." in said["DECK-2"].beside


def test_what_wants_work_says_which(deck):
    said = tools_of(deck)["DECK-2"]
    assert (said.state, said.leave) == ("Get it, work first. Put on one coat.", False)
    assert said.beside[0] == "Wax first: 4 of 4 pulls done."


def test_a_mold_is_lifted_with_what_is_in_it(deck):
    tools = {one.what: one.tool for one in deck.tool_set.all()}
    assert tools_of(deck)["DECK-2"].lift == "Mass: 38 kg, more with the mold inserts in it. Lift: two."
    tools["HATCH8"].mass_kg = Decimal("1.5")
    tools["HATCH8"].save()
    do("install", tools["HATCH8"], mold=tools["DECK-2"], at=ago(minutes=4))
    assert "Mass: 38 kg, at least 39.5 kg with the mold inserts in it. Lift" in tools_of(deck)["DECK-2"].lift
    tools["COAM-A"].mass_kg = 3
    tools["COAM-A"].save()
    do("lay_up", tools["DECK-2"], part="SK520/DECK", at=ago(minutes=1))
    assert "Mass: 38 kg, 42.5 kg with the mold inserts in it, and a part. Lift" in tools_of(deck)["DECK-2"].lift


def test_heat_is_not_passed_over_in_silence(printed, deck):
    assert [(said.heat, said.near) for code, said in tools_of(deck).items() if code != "HATCH7"] == [
        ("At most 70 °C: DECK-2 itself stands 70 °C.", True),
        ("How hot it may get is not written down.", False),
        ("", False),
    ]
    deck.peak_c = None
    deck.save()
    assert not tools_of(deck)["DECK-2"].near
    text = " ".join(printed())
    assert "Peak: not said" in text
    assert "At most 70 °C: DECK-2 itself stands 70 °C." in text


def test_a_mold_insert_goes_in_last(printed, deck):
    text = " ".join(printed())
    assert in_order(
        text, "Scan the code", "What to do first", "Loose pieces pinch", "True only if work begins 12 May 2026, 07:40.",
        "wait at least", "Last: put HATCH7 into DECK-2, when it and DECK-2 are through their waits.",
    )  # fmt: skip
    assert "Put it into DECK-2" not in text


def test_cautions_stand_where_the_work_is(printed, deck):
    text = " ".join(printed())
    assert in_order(
        text, "What to do first", "Coats: Wax and solvent burn", "07:40 to 07:55", "along the racks",
        "Lifting: Tools are heavy", "DECK-2 Mold", "12 flange clamps", "Lifting. Tools are heavy", "Coats. Wax",
        "Lay-up. Peroxide", "Trimming. Dust of glass", "Putting in a mold insert. A mold insert pinches",
    )  # fmt: skip
    assert "In the mold: 14 h by the shop’s own number; check that it is hard" in text
    assert "Taking a part off" not in text
    deck.tool_set.filter(role="mold").update(alternative="deck")
    other = line(deck, "mold", mold("DECK-1", None), order=9, alternative="deck")
    do("lay_up", other.tool, part="SK520/DECK", at=ago(minutes=1))
    assert "Taking a part off. Compressed air" in " ".join(printed())


def test_the_longest_set_flows_over_pages_and_cuts_no_row(morning, sign_in):
    revision = fullest_set(morning)
    reply = sign_in("reader").get(f"/parts/{revision.part.number}/set.pdf")
    found = pages(reply.content)
    rows = [(len(re.findall(r"W{12}\d\dA (?:Mold|Trim)", page)), page.count("Mass: 1234.567891 kg")) for page in found]
    assert all(codes == masses for codes, masses in rows)
    assert sum(codes for codes, _masses in rows) == 12
    assert all(f"{number:02} W" in " ".join(found) for number in range(HARDWARE))
    assert [f"{number} of {len(found)}" in page for number, page in enumerate(found, 1)] == [True] * len(found)
    for page in pypdfium2.PdfDocument(reply.content):
        words = page.get_textpage()
        boxes = [words.get_rect(number) for number in range(words.count_rects())]
        assert min(box[0] for box in boxes) >= 36
        assert max(box[2] for box in boxes) <= page.get_size()[0] - 36


def test_a_phone_reads_its_code(sign_in, deck, settings):
    settings.SITE_URL = "http://192.168.1.20:8000"
    client = sign_in("reader")

    def read(query=""):
        page = pypdfium2.PdfDocument(client.get("/parts/SK520/DECK/set.pdf" + query).content)[0]
        return [one.text for one in zxingcpp.read_barcodes(page.render(scale=150 / 72).to_pil())]

    assert read() == ["http://192.168.1.20:8000/parts/SK520/DECK/"]
    newer = PartRevision.objects.create(part=deck.part, revision="C", name="Deck with a day hatch")
    line(newer, "mold", deck.tool_set.get(role="mold").tool, confirmed=False)
    assert read("?revision=b") == ["http://192.168.1.20:8000/parts/SK520/DECK/?revision=B"]


def test_the_reader_s_units_and_paper(sign_in, deck):
    reply = sign_in("reader", units="us").get("/parts/SK520/DECK/set.pdf")
    text = " ".join(pages(reply.content))
    assert [words in text for words in ("158 °F", " lb", "°C", " kg")] == [True, True, False, False]
    assert pypdfium2.PdfDocument(reply.content)[0].get_size() == pytest.approx((612, 792), abs=0.5)


def test_a_revision_is_asked_for_by_its_name(printed, deck):
    other = PartRevision.objects.create(part=deck.part, revision="C", name="Deck with a day hatch")
    line(other, "mold", deck.tool_set.get(role="mold").tool, confirmed=False)
    assert "Revision C: Deck with a day hatch" in printed()[0]
    assert "Revision B: Kayak deck" in printed(revision="B")[0]


def test_what_cannot_be_printed_is_a_page_that_says_what_to_do(sign_in, deck, monkeypatch):
    client = sign_in("reader")
    Part.objects.create(number="NONE")
    PartRevision.objects.create(part=Part.objects.create(number="BARE"), name="Bare")
    for address, status, words in (
        ("/parts/NO-SUCH/set.pdf", 404, "No part has the number “NO-SUCH”"),
        ("/parts/NONE/set.pdf", 404, "a lead writes it down first"),
        ("/parts/BARE/set.pdf", 404, "No tool set is written down for BARE yet: a lead puts in its molds"),
        ("/parts/SK520/DECK/set.pdf?revision=Z", 404, "SK520/DECK has no revision Z."),
    ):
        reply = client.get(address)
        assert (reply.status_code, words in reply.text) == (status, True), address
    assert "/parts/BARE/set/" not in client.get("/parts/BARE/set.pdf").text
    assert client.get("/parts/SK520/DECK/set.pdf?wanted=soon").url == "/parts/SK520/DECK/?wanted=soon"
    assert client.get("/parts/sk520/deck/set.pdf?paper=a4").url == "/parts/SK520/DECK/set.pdf?paper=a4"
    monkeypatch.setattr(libraries, "missing", lambda: ["pango-1.0"])
    reply = client.get("/parts/SK520/DECK/set.pdf")
    assert (reply.status_code, "sudo apt-get install" in reply.text) == (503, True)
    assert "Back to SK520/DECK" in reply.text
    assert 'href="/parts/BARE/set/"' in sign_in("lead").get("/parts/BARE/set.pdf").text


def test_as_many_queries_for_four_tools_as_for_thirteen(morning, deck):
    at = ago(seconds=-1)
    do("hold", deck.tool_set.get(role="trim_mask").tool, reason="worn")
    with CaptureQueriesContext(connection) as few:
        set_sheet_of(deck, at)
    for number, kind in enumerate((Kind.MOLD, Kind.INSERT, Kind.TRIM_MASK) * 3):
        system = None if kind == Kind.TRIM_MASK else morning
        tool = mold(
            f"T-{number}", system, kind=kind, pulls=None, place=Place.objects.create(code=f"P-{number}", name="p")
        )
        line(deck, kind, tool)
        do("hold", tool, reason="worn")
    with CaptureQueriesContext(connection) as many:
        assert len(set_sheet_of(deck, at).tools) == 13
    assert len(many) <= len(few) <= 14


def test_as_many_queries_however_long_the_histories(morning, deck):
    at = ago(seconds=-1)
    tools = [one.tool for one in deck.tool_set.exclude(tool=None).select_related("tool")]

    def work():
        for tool in tools:
            do("tell_lead", tool, note="A scratch")
            if tool.kind == Kind.MOLD:
                do("log_pull", tool, came_off="free")
                do("repair", tool, area="spot", stands=60)
            do("hold", tool, reason="worn")

    def asked():
        with CaptureQueriesContext(connection) as found:
            set_sheet_of(deck, at)
        return len(found)

    work()
    once = asked()
    for _ in range(3):
        work()
    assert asked() == once
