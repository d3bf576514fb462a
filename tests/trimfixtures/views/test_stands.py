"""What screens of tooling say of trim masks: the page of one, a part and its set, the board, a tag."""

import re

import pytest

from shared.clock import now
from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Kind, Part, PartRevision, SetLine, Shop, TagPrint, TagWanted, Tool
from tooling.selectors.tag_facts import facts, on_tags
from tooling.selectors.tool_set import tool_set
from tooling.services.tags.printed import mark
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.services import deeds
from trimfixtures.services.masks import describe

pytestmark = pytest.mark.django_db
BY_RECORD = "Usable by its record: a check of its cut edge is wanted; look at it before the cut."


@pytest.fixture
def trim(morning):
    """A mold, and the trim mask in the set of its part: checked yesterday, three parts since."""
    Shop.objects.update(week="Mon-Sun 00:00-24:00", hands=1)
    deck, tool = mold("DECK", morning), mold("COAM-TRIM", None, kind=Kind.TRIM_MASK, pulls=None)
    Mask.objects.create(tool=tool, stage="net", check_every=15)
    of = PartRevision.objects.create(part=Part.objects.create(number="SK-Deck"), revision="A", name="Deck")
    for one in (deck, tool):
        SetLine.objects.create(revision=of, role=one.kind, tool=one)
    check(tool, 24)
    used(tool, 9, count=3)
    return tool


def check(tool, hours, *, passed=True, **said):
    return deeds.log_check(tool, passed=passed, at=ago(hours=hours), by=None, recorded_by=None, **said)


def used(tool, hours, **said):
    return deeds.log_use(tool, at=ago(hours=hours), by=None, recorded_by=None, **said)


def words(text):
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def on_board(client, anchor):
    page = client.get("/").text
    found = re.search(rf'<section class="part" aria-labelledby="{anchor}">(.*?)</section>', page, re.DOTALL)
    return words(found.group(1)) if found else ""


def test_its_page_says_whether_it_may_be_used_why_not_and_what_mends_it(sign_in, trim):
    client = sign_in("hand")
    assert (
        str(client.get("/tools/COAM-TRIM/").context["said"])
        == "Usable by its record: 12 parts to its next check; look at it before the cut."
    )
    used(trim, 8, outcome="off_size")
    page = client.get("/tools/COAM-TRIM/")
    assert str(page.context["said"]) == BY_RECORD
    assert "a part came out of size since the last. Check the cut edge." in words(page.text)
    check(trim, 7, passed=False)
    page = client.get("/tools/COAM-TRIM/")
    assert str(page.context["said"]) == "Not usable."
    assert "Its last check failed, 23:40 yesterday." in words(page.text) or "Its last check failed" in words(page.text)
    assert "Mend it and check the cut edge again; then look at it and free it.</a>" in page.text
    assert "Mend it and check the cut edge again; then look at it and free it.</a>" not in look(sign_in, "reader")
    SetLine.objects.all().delete()
    assert str(client.get("/tools/COAM-TRIM/").context["said"]) == "Not usable."
    do("hold", trim, at=ago(hours=6), reason="chip")
    assert str(client.get("/tools/COAM-TRIM/").context["said"]).startswith("Held")


def look(sign_in, role):
    return sign_in(role).get("/tools/COAM-TRIM/").text


def test_without_anything_written_down_it_is_just_usable(sign_in, trim):
    mold("BARE", None, kind=Kind.TRIM_MASK, pulls=None)
    assert (
        str(sign_in("hand").get("/tools/BARE/").context["said"]) == "Usable by its record: look at it before the cut."
    )


def test_what_puts_a_cut_off_is_said_by_its_diameter_with_what_mends_it(sign_in, trim):
    reamer = Cutter.objects.create(code="RM6", kind="cutter", nominal_mm=6, measured_mm="6.08")
    hole = {"kind": "hole", "method": "drill", "name": "Pintle holes, two", "width_mm": 6, "tolerance_mm": "0.05"}
    Feature.objects.create(mask=trim.mask, cutter=reamer, **hole)
    said = words(sign_in("hand").get("/tools/COAM-TRIM/").text)
    assert "Pintle holes, two: Ø 0.08 mm over size by what was measured; tolerance ± 0.05 mm." in said
    assert "Take a drill or reamer that measures true" in said
    # What the cutter is off by does not count beside what the opening is.
    Feature.objects.update(kind="cut_out", method="bearing", bushing_mm=6, opening_mm=10)
    said = words(sign_in("hand").get("/tools/COAM-TRIM/").text)
    assert "Pintle holes, two: 2.04 mm too deep by what was measured; tolerance ± 0.05 mm at each edge." in said
    assert "Measure the opening of the trim mask again" in said
    assert "Take a" not in said


def test_what_is_gone_is_said_and_does_not_stop(sign_in, trim):
    cutter = Cutter.objects.create(code="R6", kind="cutter", nominal_mm=6, state="gone")
    Feature.objects.create(mask=trim.mask, kind="edge", method="guide_bushing", cutter=cutter, bushing_mm=17)
    page = sign_in("hand").get("/tools/COAM-TRIM/")
    assert str(page.context["said"]).startswith("Usable")
    assert "Its cutter R6 is gone. Get one." in words(page.text)


def test_the_set_of_its_part_says_stage_and_parts_to_its_next_check(sign_in, trim):
    client = sign_in("hand")
    page = words(client.get("/parts/SK-Deck/").text)
    assert "Usable. Net cut, 12 parts to its next check." in page
    line = next(one for one in tool_set(PartRevision.objects.get(), NOW).lines if one.tool == trim)
    assert (line.usable, line.stands) == (True, "Net cut, 12 parts to its next check.")
    check(trim, 7, passed=False)
    assert "Net cut" not in words(client.get("/parts/SK-Deck/").text)
    then = tool_set(PartRevision.objects.get(), ago(hours=8)).lines
    assert next(one for one in then if one.tool == trim).usable


def test_the_board_says_beside_a_part_in_a_mold_whether_its_trim_mask_may_be_used(sign_in, trim):
    do("lay_up", trim_mold(), at=ago(hours=1), part="sk-deck", earliest_pull=now())
    client = sign_in("reader")
    assert "Its trim mask COAM-TRIM is usable by its record: look at it before the cut." in on_board(client, "molds")
    used(trim, 8, outcome="off_size")
    wanted = "COAM-TRIM: A check of the cut edge is wanted: a part came out of size since the last."
    assert wanted in on_board(client, "molds")
    check(trim, 7, passed=False)
    assert "Its trim mask COAM-TRIM is not usable: Its last check failed" in on_board(client, "molds")
    deeds.check_edge(trim, points="bow: out", at=ago(hours=6), by=None, recorded_by=None)
    assert "Its trim mask COAM-TRIM is not usable: Held: its check failed." in on_board(client, "molds")
    Tool.objects.filter(code="DECK").update(hand="L")
    Tool.objects.filter(pk=trim.pk).update(hand="R")
    assert "COAM-TRIM" not in on_board(client, "molds")
    Tool.objects.filter(pk=trim.pk).update(hand="")
    spare = mold("COAM-TRIM-2", None, kind=Kind.TRIM_MASK, pulls=None)
    SetLine.objects.create(revision=PartRevision.objects.get(), role="trim_mask", tool=spare, alternative="trim")
    SetLine.objects.filter(tool=trim).update(alternative="trim")
    assert "Its trim mask COAM-TRIM-2 is usable by its record" in on_board(client, "molds")


def trim_mold():
    return SetLine.objects.get(role="mold").tool


def test_the_board_has_those_whose_cut_edge_is_to_be_checked_soon(sign_in, trim):
    client = sign_in("reader")
    assert on_board(client, "check") == ""
    used(trim, 8, count=10)
    assert "Check the cut edge 2 parts, then a check COAM-TRIM" in on_board(client, "check")
    assert '<a href="#check">One trim mask is to be checked soon</a>' in client.get("/").text
    used(trim, 7, count=2)
    assert "now COAM-TRIM" in (said := on_board(client, "check"))
    assert "A check of the cut edge is wanted: 15 parts cut since the last." in said
    do("hold", trim, at=ago(hours=6), reason="chip")
    assert on_board(client, "check") == ""


@pytest.mark.parametrize("count", [1, 12])
def test_as_many_queries_of_the_board_for_many(sign_in, trim, morning, count, django_assert_num_queries):
    for number in range(count):
        other = mold(f"DECK-{number}", morning, pulls=None)
        tool = mold(f"TRIM-{number}", None, kind=Kind.TRIM_MASK, pulls=None)
        Mask.objects.create(tool=tool, check_every=1)
        Feature.objects.create(mask=tool.mask, kind="edge", method="guide_bushing", cutter_mm=6, bushing_mm=17)
        part = Part.objects.create(number=f"P-{number}")
        of = PartRevision.objects.create(part=part, name="Part")
        SetLine.objects.create(revision=of, role="trim_mask", tool=tool)
        do("lay_up", other, at=ago(hours=1), part=part.number)
        used(tool, 2)
    client = sign_in("reader")
    with django_assert_num_queries(21):
        page = client.get("/")
    assert page.text.count("is usable by its record") == count


def test_its_tag_says_at_which_cut_it_is_used(trim):
    bare = mold("BARE", None, kind=Kind.TRIM_MASK, pulls=None)
    found = on_tags([trim.pk, bare.pk], NOW)
    assert (found[trim.pk].more, found[bare.pk].more) == (("For the net cut",), ())


def test_another_stage_wants_another_tag(trim, lead):
    mark(facts([trim.pk], NOW), by=lead, at=NOW, count=1, given={})
    assert not TagPrint.objects.get(tool=trim).wanted
    describe(trim, by=lead, at=NOW, stage="rough")
    assert TagPrint.objects.get(tool=trim).wanted == TagWanted.CHANGED
