"""The whole look on one page: the lines of the checklist, what is measured, what is asked about, what changed."""

from decimal import Decimal
from uuid import uuid4

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Shop, Summary
from tooling.services import deeds
from tooling.services.checklists import Item, set_items

pytestmark = pytest.mark.django_db
LINES = [Item("Surface: no scratches"), Item("Edges: no chips"), Item("Gloss", "gloss", "GU", "60°", 2)]
ALL_SAID = {"all_good": "on", "measured3_value_1": "84.2", "measured3_value_2": "85", "version": "1"}


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)
    keep(LINES)


def keep(lines):
    set_items("mold", "look_over", lines, by=None, at=now())


def looks():
    return list(Entry.objects.filter(kind="inspected").order_by("number"))


def held(tool):
    return Summary.objects.get(tool=tool).held_since is not None


def test_one_tap_says_all_of_it_and_values_are_readings_of_that_moment(client, send, shop):
    assert "Surface: no scratches" in client.get("/tools/DECK-2A/looked-at/").text
    spot = {"measured3_spot_1": "keel", "measured3_instrument": "GM-60", "measured3_calibrated_until": "2027-01-31"}
    assert send("looked_at", passed="yes", **ALL_SAID, **spot).url == "/tools/DECK-2A/"
    (look,) = looks()
    assert (look.payload["checklist"], look.payload["answers"]) == (1, "1 good\n2 good\n3 good")
    readings = Entry.objects.filter(kind="reading").order_by("number")
    said = [(one.payload.get("spot", ""), Decimal(one.payload["value"]), one.payload["geometry"]) for one in readings]
    assert said == [("keel", Decimal("84.2"), "60°"), ("", 85, "60°")]
    assert {one.at for one in readings} == {look.at}
    assert readings[0].payload["calibrated_until"] == "2027-01-31"


def test_what_the_verdict_does_is_said_of_a_tool_that_is_held_and_of_one_that_is_not(client, send, shop):
    page = client.get("/tools/DECK-2A/looked-at/").text
    assert "no bare finger along them" in page
    assert "no, hold it" in page
    send("hold")
    assert "no, it stays held" in client.get("/tools/DECK-2A/looked-at/").text


def test_a_line_answered_by_itself_counts_and_is_asked_about_once(send, shop):
    send("hold")
    said = {**ALL_SAID, "item_2": "not_good", "words_2": "chip by the bow"}
    answer = send("looked_at", passed="yes", **said)
    assert errors(answer) == {"anyway": ["Not good: Edges: no chips."]}
    assert "Free it all the same" in answer.text
    assert held(shop.mold)
    send("looked_at", passed="yes", **said, anyway=answer.context["form"].asks)
    assert looks()[0].payload["answers"] == "1 good\n2 not_good: chip by the bow\n3 good"
    assert not held(shop.mold)


def test_what_nobody_looked_at_is_asked_about_and_no_answer_at_all_names_no_checklist(send, shop):
    assert errors(send("looked_at", passed="yes", all_good="on"))["anyway"] == [
        "Gloss: 2 values are wanted here, none is given."
    ]
    answer = send("looked_at", passed="yes", version="1")
    assert errors(answer)["anyway"] == ["Nobody has gone through the checklist."]
    send("looked_at", passed="yes", anyway=answer.context["form"].asks)
    send("looked_at", passed="no", item_1="not_good")  # to hold it asks nothing
    assert [one.payload.get("answers") for one in looks()] == [None, "1 not_good\n2 left\n3 left"]


def test_a_value_does_not_say_that_it_is_good_and_must_be_a_number(send, shop):
    wrong = errors(send("looked_at", passed="no", measured3_value_1="80"))
    assert wrong == {"item_3": ["It was measured: say whether it is good."]}
    assert "measured3_value_1" in errors(send("looked_at", passed="no", measured3_value_1="dull", item_3="good"))
    assert not Entry.objects.filter(kind__in=("inspected", "reading")).exists()


def test_who_stopped_it_is_refused_before_anything_else_is_asked(client, send, shop, hand):
    Shop.objects.update(formal_records=True)
    deeds.hold(shop.mold, by=hand, recorded_by=hand)
    assert "You did: another person frees it." in client.get("/tools/DECK-2A/looked-at/").text
    found = errors(send("looked_at", passed="yes", version="1"))
    assert list(found) == ["__all__"]
    assert "another person looks at it" in found["__all__"][0]


def test_changed_half_way_it_is_refused_once_and_keeps_what_was_said_of_lines_that_stayed(send, shop):
    keep([Item("Frame: nothing loose"), LINES[1], LINES[2]])
    answer = send("looked_at", passed="no", **{**ALL_SAID, "item_2": "not_good", "words_2": "chip"})
    assert "The checklist was changed meanwhile." in answer.text
    assert not looks()
    form = answer.context["form"]
    lines = {line.item.words: line for line in form.checklist_lines()}
    assert [line.is_new for line in lines.values()] == [True, False, False]
    assert (lines["Edges: no chips"].said.value(), lines["Edges: no chips"].words.value()) == ("not_good", "chip")
    assert lines["Frame: nothing loose"].said.value() is None  # one tap said nothing of it
    assert form["measured3_value_1"].value() == "84.2"
    send("looked_at", passed="no", version="2", item_2="not_good", item_1="good")
    assert looks()[0].payload["checklist"] == 2


def test_sent_twice_is_harmless_even_where_the_checklist_changed_since(send, shop):
    token = uuid4()
    for _time in range(2):
        assert send("looked_at", passed="yes", token=token, **ALL_SAID).status_code == 302
        keep(LINES[:1])
    assert (len(looks()), Entry.objects.filter(kind="reading").count()) == (1, 2)
    assert send("looked_at", passed="yes", token=token, **{**ALL_SAID, "measured3_value_2": "70"}).status_code == 409


def test_a_look_and_what_was_measured_are_written_together_or_not_at_all(send, shop):
    send("looked_at", passed="yes", at="exact", at_exact="1900-01-01 10:00", **ALL_SAID)
    assert not Entry.objects.filter(kind__in=("inspected", "reading")).exists()


def test_open_defects_are_seen_and_one_that_held_it_is_asked_about_until_it_is_gone(client, send, shop):
    happened.hold(shop.mold, defects="1 found crack, 12 mm")
    assert "Defect 1: crack, 12 mm" in client.get("/tools/DECK-2A/looked-at/").text
    said = {"passed": "yes", **ALL_SAID}
    asked = errors(send("looked_at", **said, defect_1="larger", defect_1_size="15"))["anyway"]
    assert asked == ["It was held with what is still there: Defect 1: crack, 12 mm."]
    send("looked_at", **said, defect_1="gone")
    assert looks()[0].payload["defects"] == "1 closed: gone"
    assert not held(shop.mold)
