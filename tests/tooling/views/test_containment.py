"""Parts in doubt: since the last good look, or with a lot; marked as looked at, taken back, on paper and as a table."""

from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from shared.errors import Refused
from tests.fixtures.once import once
from tests.tooling.views import works
from tests.tooling.views.serial_rows import PART, works_with_serials
from tooling.models import ContainmentMark, Entry, ReleaseSystem, Tool
from tooling.selectors.containment.doubts import doubt_of
from tooling.selectors.containment.lines import tell_more
from tooling.selectors.containment.made_since import made_since
from tooling.services import containment as services
from tooling.services import deeds


@pytest.fixture
def shop(morning):
    return told_works()


@once
def told_works():
    return works_with_serials(ReleaseSystem.objects.get())


@pytest.fixture
def since(shop, sign_in):
    """The page of the hold, as a hand sees it; with words, what is sent to it."""
    client = sign_in("hand")
    address = address_of("hold", shop.deck)

    def got(status=200, query="", **sent):
        sent = {"token": uuid4(), **sent} if sent else sent
        reply = client.post(address, sent) if sent else client.get(address + query)
        assert reply.status_code == status
        return reply

    got.client, got.address = client, address
    return got


def address_of(kind, tool, name="made_since", **query):
    entry = Entry.objects.filter(kind=kind, tool=tool).latest("pk")
    return reverse(name, args=[tool.code, entry.number], query=query)


def key(serial):
    """What the form calls a part: by its lay-up where it has one."""
    entry = Entry.objects.filter(kind__in=("lay_up", "pull"), tool__code="DECK-2A", serial=serial).earliest("at")
    return f"{entry.pk}.{serial}"


def words(reply):
    return " ".join(reply.text.split())


def test_the_parts_since_the_last_good_look(since):
    """0173 was laid up half a day after it, 0174 and one without a number came after; 0172 before."""
    text = words(since())
    for said in (
        "3 parts are in doubt; nobody has looked at one of them yet.", "Since yesterday 07:40, by Jonas: “chipped”",
        "Looked at before that and passed: Thu 7 May 19:40, Mara.", "Laid up Fri 8 May 07:40, Mara.",
        "Pulled, free: Sat 9 May 07:40, Jonas.", "1 without number", "Cut against", "COAM-TRIM",
        "Nobody has looked at it and passed it since.",
        "It does not decide whether a part is fit",
    ):  # fmt: skip
        assert said in text, said
    assert "0172" not in text
    assert f"{reverse('serial', args=['0173'])}?part={PART}&amp;tool=DECK-2A" in text


def test_what_is_begun_while_it_is_stopped_is_among_them(since, shop):
    works.do("log_pull", shop.deck, at=works.ago(hours=2), part=PART, serial="0175", came_off="free")
    text = words(since())
    assert "4 parts are in doubt" in text
    assert "1 of them was begun when it was stopped already." in text
    works.do("inspect", shop.deck, at=works.ago(hours=1), passed=True)
    works.do("log_pull", shop.deck, at=works.ago(minutes=5), part=PART, serial="0176", came_off="free")
    assert "4 parts are in doubt" in words(since())


def test_a_mark_says_who_found_what(since, shop):
    since(302, parts=[key("0173")], found="good")
    (mark,) = ContainmentMark.objects.all()
    assert (mark.serial, mark.found, mark.of_entry.kind, mark.by.role) == ("0173", "good", "hold", "hand")
    assert "1 of 3 looked at, all of these good." in words(since())
    assert "0173" not in words(since(query="?show=left"))
    since(302, parts=[key("0173")], found="not_good", words="soft at the cutout")
    assert "1 of 3 looked at, 1 of them not good." in words(since())
    assert "soft at the cutout" in words(since(query="?show=not_good"))
    assert ContainmentMark.objects.filter(taken_back_at=None).count() == 1


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"found": "good"}, "Tick the parts that you looked at."),
        ({"parts": ["0173"], "found": "not_good"}, "Say in a few words what is not good."),
        ({"parts": ["0172"], "found": "good"}, "A part that you ticked is not in doubt any more."),
    ],
)
def test_a_mark_that_cannot_be_is_refused(since, sent, said):
    """0172 was made before the last good look."""
    sent = {**sent, "parts": [key(one) for one in sent.get("parts", [])], "words": ""}
    text = words(since(200, **sent))
    assert said in text
    assert not ContainmentMark.objects.exists()
    if "0173" in str(sent["parts"]):
        assert f'value="{key("0173")}" checked' in text


def test_the_same_form_twice_marks_once(since):
    token = uuid4()
    for _time in range(2):
        since(302, parts=[key("0173"), key("0174")], found="good", token=token)
    assert ContainmentMark.objects.count() == 2
    since(409, parts=[key("0173"), key("0174")], found="not_good", words="soft", token=token)


def test_the_same_form_with_other_parts_is_refused(since):
    since(302, parts=[key("0173")], found="good")
    token = uuid4()
    for _time in range(2):
        since(302, parts=[key("0173"), key("0174")], found="good", token=token)
    since(409, parts=[key("0173")], found="good", token=token)
    assert ContainmentMark.objects.count() == 2


def test_a_mark_is_rubbed_out_and_what_it_replaced_stands_again(since):
    since(302, parts=[key("0173")], found="not_good", words="soft")
    reply = since(302, parts=[key("0173")], found="good", words="dried on")
    assert "1 marked: good." in words(since.client.get(reply.url))
    latest = ContainmentMark.objects.latest("pk")
    since(302, do="back", marked=str(latest.pk))
    standing = ContainmentMark.objects.get(taken_back_at=None)
    assert (standing.found, standing.words) == ("not_good", "soft")


def test_what_was_not_good_becomes_so_with_a_word_and_stays_readable(since):
    since(302, parts=[key("0173")], found="not_good", words="soft all over")
    asked = words(since(200, parts=[key("0173")], found="good", words=""))
    assert "0173 was not good before: say in a few words why it is now." in asked
    since(302, parts=[key("0173")], found="good", words="post-cured")
    assert "“post-cured” Before that: Not good:" in words(since())
    table = since.client.get(address_of("hold", Entry.objects.get(kind="hold").tool, "made_since_table"))
    assert "soft all over" in table.getvalue().decode()
    assert "soft all over" in since.client.get(reverse("serial", args=["0173"])).text


def test_the_later_look_stands(shop):
    """Said for a day before it another look is refused; what is said for earlier is still rubbed out."""

    def mark(serial, **said):
        use, number = key(serial).split(".")
        hold = Entry.objects.get(kind="hold").pk
        return services.mark(services.Of(hold), [(int(use), number)], by=shop.mara, recorded_by=shop.mara, **said)

    mark("0173", found="good")
    with pytest.raises(Refused, match="0173 was looked at again after that time"):
        mark("0173", found="not_good", words="soft", at=works.ago(days=1))
    with pytest.raises(Refused, match="in the future"):
        mark("0174", found="good", at=works.ago(days=-1))
    services.take_back(mark("0174", found="good", at=works.ago(hours=1)), by=shop.mara)
    assert [one.serial for one in ContainmentMark.objects.filter(taken_back_at=None)] == ["0173"]


def test_at_a_station_nobody_rubs_out_what_other_hands_marked(shop, sign_in):
    client, address = sign_in("station"), address_of("hold", shop.deck)
    for serial, hands in (("0173", shop.mara), ("0174", shop.jonas)):
        client.post(address, {"token": uuid4(), "parts": [key(serial)], "found": "good", "by": hands.pk})
    marked = ",".join(str(one.pk) for one in ContainmentMark.objects.order_by("serial"))
    reply = client.post(address, {"do": "back", "marked": marked, "by": shop.mara.pk}, follow=True)
    assert "by who made it" in reply.text
    assert ContainmentMark.objects.filter(taken_back_at=None).count() == 2


def test_nobody_takes_back_the_mark_of_another(since, lead):
    since(302, parts=[key("0173")], found="good")
    mark = ContainmentMark.objects.get()
    since.client.force_login(lead)
    reply = since.client.post(since.address, {"do": "back", "marked": mark.pk}, follow=True)
    assert "within five minutes, by who made it" in reply.text
    assert ContainmentMark.objects.filter(taken_back_at=None).exists()


def test_a_station_is_asked_whose_hands(shop, sign_in):
    client, address = sign_in("station"), address_of("hold", shop.deck)
    sent = {"token": uuid4(), "parts": [key("0173")], "found": "good"}
    assert "Whose hands were it?" in client.post(address, sent).text
    assert client.post(address, {**sent, "by": shop.mara.pk}).status_code == 302
    assert ContainmentMark.objects.get().by == shop.mara


def test_at_a_station_the_hand_that_marked_it_rubs_it_out(shop, sign_in):
    client, address = sign_in("station"), address_of("hold", shop.deck)
    client.post(address, {"token": uuid4(), "parts": [key("0173")], "found": "good", "by": shop.mara.pk})
    mark = ContainmentMark.objects.get()
    back = {"do": "back", "marked": mark.pk}
    assert "What was just marked on parts in doubt." in client.post(address, back).text
    assert client.post(address, {**back, "by": shop.jonas.pk}).status_code == 200
    assert ContainmentMark.objects.filter(taken_back_at=None).exists()
    assert client.post(address, {**back, "by": shop.mara.pk}).status_code == 302
    assert not ContainmentMark.objects.filter(taken_back_at=None).exists()


def test_what_is_marked_and_then_void_stands_by_itself(since, shop):
    since(302, parts=[key("0173")], found="good")
    for kind in ("lay_up", "pull"):
        entry = Entry.objects.get(kind=kind, serial="0173")
        deeds.void(entry, reason="wrong tag", by=shop.mara, recorded_by=shop.mara)
    text = words(since())
    assert "2 parts are in doubt" in text
    assert "Marked, and not in doubt as far as is known now" in text


def test_a_reader_marks_nothing(shop, sign_in):
    client, address = sign_in("reader"), address_of("hold", shop.deck)
    assert 'type="checkbox"' not in client.get(address).text
    sent = {"token": uuid4(), "parts": [key("0173")], "found": "good"}
    assert client.post(address, sent).status_code == 403


def test_a_look_that_was_not_passed_leads_to_them(shop, sign_in):
    works.do("inspect", shop.other, at=works.ago(hours=2), passed=False)
    client = sign_in("reader")
    there = address_of("inspected", shop.other)
    assert there in client.get(address_of("inspected", shop.other, "look")).text
    assert "By what was written down no part is in doubt." in words(client.get(there))


def test_a_coat_puts_nothing_in_doubt(shop, sign_in):
    assert sign_in("reader").get(address_of("coat", shop.deck)).status_code == 404


def test_an_insert_is_asked_for_through_the_molds_that_it_was_in(shop, sign_in):
    works.do("hold", shop.hatch, at=works.ago(hours=3), reason="loose")
    text = words(sign_in("reader").get(address_of("hold", shop.hatch)))
    assert "Nobody ever looked at it and passed it" in text
    assert "0172" in text
    assert not {"0171", "0173"} & set(text.replace(",", " ").split())


def test_a_hold_that_is_void_says_so(since, shop):
    deeds.void(Entry.objects.get(kind="hold"), reason="wrong tag", by=shop.mara, recorded_by=shop.mara)
    assert "it puts nothing in doubt." in words(since())


def test_a_cut_came_out_of_the_mold_of_its_own_hand(shop):
    """The same number went through both halves: the trim mask of the right one never cut what came out of the left."""
    works.do("log_pull", shop.other, at=works.ago(days=3), part=PART, serial="0173", came_off="free")
    for tool, side in ((shop.deck, "R"), (shop.other, "L"), (shop.mask, "R")):
        Tool.objects.filter(pk=tool.pk).update(hand=side)
    works.do("hold", shop.mask, at=works.ago(hours=2), reason="bent")
    hold = Entry.objects.get(kind="hold", tool=shop.mask)
    (line,) = made_since(doubt_of("COAM-TRIM", hold.number), works.NOW).lines
    tell_more([line])
    assert [met.tool.code for met in line.met] == ["DECK-2A"]


def test_table_and_paper_say_the_same(since, shop):
    since(302, parts=[key("0173")], found="not_good", words="=soft")
    table = since.client.get(address_of("hold", shop.deck, "made_since_table"))
    rows = [row.split(",") for row in table.getvalue().decode().splitlines()]
    assert [row[0] for row in rows[1:]] == ["0174", "", "0173"]
    assert "not good" in rows[3]
    assert "'=soft" in rows[3]
    assert "COAM-TRIM" in rows[3]
    sheet = since.client.get(address_of("hold", shop.deck, "made_since_sheet"))
    assert sheet.getvalue().startswith(b"%PDF")
    assert "made-since-DECK-2A" in sheet["Content-Disposition"]
    assert since.client.get(reverse("lot_made_sheet", args=["W14"])).getvalue().startswith(b"%PDF")
    assert "0171" in since.client.get(reverse("lot_made_table", args=["W14"])).getvalue().decode()


def test_as_many_queries_however_many_parts(since, shop):
    def count():
        with CaptureQueriesContext(connection) as queries:
            since()
        return len(queries)

    since()
    few = count()
    for number in range(12):
        at = works.ago(hours=20 - number)
        works.do("log_pull", shop.deck, at=at, part=PART, serial=f"02{number:02}", came_off="free")
    assert "15 parts are in doubt" in words(since())
    assert count() == few
