"""A deed at a station: a name, a PIN once a shift, and back to the rows."""

import pytest

from tests.tooling.views.deeds.conftest import errors, happened, page_says
from tooling.models import Entry, Person, Pin, Shift, Summary
from tooling.services import pins

pytestmark = pytest.mark.django_db


def test_two_people_log_in_turn_and_type_their_pins_once(client, send, station, two):
    mara, jonas = two
    assert send("coat", by=mara.pk, pin="8205", what="coat").url == "/wall/"
    assert send("coat", by=jonas.pk, pin="5061", what="coat").url == "/wall/"
    assert send("coat", by=mara.pk, what="coat").url == "/wall/"
    assert send("strip", by=jonas.pk).url == "/wall/"
    written = Entry.objects.order_by("-id")[:4]
    assert [entry.by for entry in written] == [jonas, mara, jonas, mara]
    assert {entry.recorded_by for entry in written} == {station}


@pytest.mark.parametrize(("pin", "said"), [("", "The PIN of Mara is missing: once a shift."), ("4826", "not the PIN")])
def test_without_the_pin_nothing_is_written_and_what_was_typed_is_kept(client, send, two, pin, said):
    before = Entry.objects.count()
    page = send("coat", by=two[0].pk, pin=pin, what="coat", lot="T-417", note="by the bow")
    assert said in errors(page)["by"][0]
    assert 'value="T-417"' in page.text
    assert "by the bow" in page.text
    assert "4826" not in page_says(page)
    assert (Entry.objects.count(), Shift.objects.count()) == (before, 0)


def test_many_wrong_ones_make_that_person_wait_and_no_other(client, send, two):
    mara, jonas = two
    for _try in range(pins.FREE):
        send("coat", by=mara.pk, pin="1111", what="coat")
    assert "Too many wrong PINs for Mara." in errors(send("coat", by=mara.pk, pin="8205", what="coat"))["by"][0]
    assert send("coat", by=jonas.pk, pin="5061", what="coat").status_code == 302


def test_a_right_pin_beside_another_slip_is_not_asked_again(client, send, two):
    slip = send("coat", by=two[0].pk, pin="8205", what="coat", count="many")
    assert set(errors(slip)) == {"count"}
    assert send("coat", by=two[0].pk, what="coat").status_code == 302
    assert Pin.objects.get(person=two[0]).wrong == 0


def test_sent_twice_counts_once(client, send, two):
    facts = {"token": "7e0d6c70-62c8-4b3e-9d4c-3a5b8d6f1c11", "by": two[0].pk, "pin": "8205", "what": "coat"}
    before = Entry.objects.count()
    assert [send("coat", **facts).url for _twice in range(2)] == ["/wall/", "/wall/"]
    assert Entry.objects.count() == before + 1


def test_nobody_stays_chosen(client, send, two):
    send("coat", by=two[0].pk, pin="8205", what="coat")
    text = client.get("/tools/DECK-2A/coat/").text
    assert "checked" not in text[text.index('id="id_by"') : text.index("</fieldset>")]
    assert "in until" in text
    assert "PIN first, once a shift" in text
    assert "PIN each time" in client.get("/tools/DECK-2A/looked-at/").text


def test_a_pin_that_was_sent_while_signed_out_is_not_kept(client, send, two, station):
    client.logout()
    send("coat", by=two[0].pk, pin="8205", what="coat", lot="T-417")
    assert "8205" not in str(dict(client.session))
    client.force_login(station)
    page = client.get("/tools/DECK-2A/coat/")
    assert "T-417" in page.text
    assert "8205" not in page_says(page)


def test_a_second_pull_of_one_part_is_asked_about_without_the_pin_in_the_page(client, send, two):
    send("pulled", by=two[0].pk, pin="8205", came_off="free")
    page = send("pulled", by=two[1].pk, pin="5061", came_off="light")
    assert "The same part?" in page.text
    assert "5061" not in page_says(page)
    assert send("pulled", by=two[1].pk, came_off="light", another="yes").status_code == 302
    assert Entry.objects.filter(kind="pull", by=two[1]).count() == 1


def test_only_the_hand_that_wrote_it_rubs_it_out(client, send, two):
    mara, jonas = two
    send("coat", by=mara.pk, pin="8205", what="coat")
    send("strip", by=jonas.pk, pin="5061")
    coat = Entry.objects.filter(kind="coat").last()
    Shift.objects.filter(person=mara).delete()
    address = f"/tools/DECK-2A/entries/{coat.number}/rub-out/"
    assert "Mara: rub it out" in client.get(address).text
    for wrong in ({"by": jonas.pk}, {"by": mara.pk}, {"by": mara.pk, "pin": "5061"}):
        assert client.post(address, wrong).status_code == 200
    assert not Entry.objects.filter(kind="void").exists()
    assert client.post(address, {"by": mara.pk, "pin": "8205"}).url == "/wall/"
    assert Entry.objects.get(kind="void").by == mara


def test_after_a_hard_pull_the_questions_come_before_the_rows(client, send, two):
    answer = send("pulled", by=two[0].pk, pin="8205", came_off="stuck")
    assert answer.url.endswith("/seen/")
    assert send("seen", number=Entry.objects.get(kind="pull").number, looked="no", by=two[0].pk).url == "/wall/"


def test_what_frees_the_tool_is_said_by_the_hand_that_pulled(client, send, shop, two):
    mara, jonas = two
    send("pulled", by=mara.pk, pin="8205", came_off="stuck")
    Shift.objects.all().delete()
    number, before = Entry.objects.get(kind="pull").number, Entry.objects.count()
    where = {"inserts": "some", f"insert_{shop.insert.pk}": "gone"}
    for answer in ({"looked": "no"}, {"came_off": "free"}, where, {"surface": "HATCH7"}):
        asked = [send("seen", number=number, **answer, **hand) for hand in ({}, {"by": jonas.pk}, {"by": mara.pk})]
        assert all("by" in errors(page) for page in asked)
    assert Entry.objects.count() == before
    assert 'type="hidden" name="came_off" value="free"' in send("seen", number=number, came_off="free").text
    assert send("seen", number=number, looked="no", by=mara.pk, pin="8205").url == "/wall/"
    assert Summary.objects.get(tool=shop.mold).held_since is None


def test_what_holds_nothing_back_asks_for_no_hand(send, two):
    send("pulled", by=two[0].pk, pin="8205", came_off="stuck")
    assert send("seen", number=Entry.objects.get(kind="pull").number, looked="not_looked", fault="drag").url == "/wall/"


def test_freeing_a_held_tool_wants_the_pin_each_time(send, shop, two):
    mara = two[0]
    assert send("coat", by=mara.pk, pin="8205", what="coat").url == "/wall/"
    happened.hold(shop.mold, by=two[1])
    refused = send("looked_at", by=mara.pk, passed="yes")
    assert errors(refused)["by"] == ["For this the PIN of Mara is wanted each time."]
    assert 'name="pin"' in refused.text
    assert Summary.objects.get(tool=shop.mold).held_since is not None
    assert send("looked_at", by=mara.pk, passed="yes", pin="8205").status_code == 302
    assert Summary.objects.get(tool=shop.mold).held_since is None


def test_a_lead_starts_on_a_held_tool_by_the_pin_alone(send, shop, two):
    Person.objects.filter(pk=two[0].pk).update(role="lead")
    assert send("coat", by=two[0].pk, pin="8205", what="coat").url == "/wall/"
    happened.hold(shop.mold, by=two[1])
    stops = [one.key for one in send("lay_up", by=two[0].pk).context["stops"]]
    start = {"anyway": "start", "reason": "urgent", "seen": stops, "by": two[0].pk}
    assert "each time" in errors(send("lay_up", **start))["by"][0]
    assert not Entry.objects.filter(kind="lay_up").exists()
    assert send("lay_up", **start, pin="8205").status_code == 302
