"""With formal records an acceptance is refused without its evidence, and by whom has no right; off, one tap does."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared.clock import now
from shared.errors import Refused
from tests.tooling.pictures import sent
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Kind, Person, Picture, Summary
from tooling.selectors.looked import look_of
from tooling.services import deeds, rights
from tooling.services.checklists import Item, set_items
from tooling.services.making_steps import Step, set_steps
from tooling.services.shop import change_shop
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
ITEMS = [Item("Agrees with its drawing"), Item("Gloss measured", "gloss", "GU", "60°", 2)]
GOOD = {
    "item_1": "good",
    "item_2": "good",
    "measured2_value_1": "84",
    "measured2_value_2": "85",
    "measured2_instrument": "GM-60",
    "version": "1",
    "passed": "yes",
}
DESIGN = {"design_ref": "D-12", "design_revision": "C"}


@pytest.fixture
def made(client, lead, shop):
    """Made and not accepted yet, with a checklist of its kind."""
    client.force_login(lead)
    set_items(Kind.MOLD, "acceptance", ITEMS, by=None, at=now())
    return add_tool(code="NEW-1", name="Deck", kind=Kind.MOLD, release_system=shop.wax, in_making=True, design_ref="D")


@pytest.fixture
def formal(made):
    change_shop({"formal_records": True})
    return made


@pytest.fixture
def accept(send, lead):
    def post(**typed):
        return send("accepted", "NEW-1", **{"by": lead.pk, **typed})

    return post


def whole(**more):
    return {**GOOD, **DESIGN, "note": "fair all over", "pictures": sent(), **more}


def test_with_all_of_it_it_is_accepted_and_keeps_all_of_it(formal, accept):
    assert accept(**whole()).url == "/tools/NEW-1/"
    entry = Entry.objects.get(kind="accepted")
    said = {name: entry.payload[name] for name in ("checklist", "answers", *DESIGN)}
    assert said == {"checklist": 1, "answers": "1 good\n2 good", **DESIGN}
    assert Picture.objects.get().entry == entry
    assert {one.at for one in Entry.objects.filter(kind="reading")} == {entry.at}
    assert not Summary.objects.get(tool=formal).making


def test_what_is_missing_is_said_all_at_once_and_nothing_is_written(formal, accept):
    answer = accept(passed="yes", version="1", item_1="good", design_ref="", design_revision="")
    found = errors(answer)
    assert found.keys() == {"item_2", "design_ref", "design_revision", "note", "pictures"}
    assert found["item_2"] == ["2 values are wanted here, none is given."]
    assert set(errors(accept())) == {"passed"}
    assert not Entry.objects.filter(tool=formal).exists()


def test_too_few_values_no_instrument_and_what_is_no_picture_are_refused(formal, accept):
    few = {**whole(), "measured2_value_2": ""}
    assert errors(accept(**few)) == {"item_2": ["2 values are wanted here, 1 is given."]}
    bare = {**whole(), "measured2_instrument": ""}
    assert errors(accept(**bare)) == {"item_2": ["Say with which instrument it was measured."]}
    broken = sent()
    broken.seek(0)
    broken.write(b"no picture at all")
    broken.seek(0)
    assert errors(accept(**whole(pictures=broken))).keys() == {"pictures"}
    assert not Entry.objects.filter(tool=formal).exists()


def test_what_is_not_good_is_asked_about_once(formal, accept):
    answer = accept(**whole(item_1="not_good", words_1="an older one"))
    assert errors(answer) == {"anyway": ["Not good: Agrees with its drawing."]}
    anyway = answer.context["form"].asks
    assert accept(**whole(item_1="not_good", words_1="an older one", anyway=anyway)).status_code == 302
    assert Entry.objects.get(kind="accepted").payload["answers"] == "1 not_good: an older one\n2 good"


def test_not_yet_holds_it_and_keeps_what_was_answered(formal, accept):
    assert accept(passed="no", version="1", item_1="not_good", words_1="rev B").status_code == 302
    look = Entry.objects.get(kind="inspected")
    assert (look.payload["passed"], look.payload["answers"]) == (False, "1 not_good: rev B\n2 left")
    assert look_of(look).lines[0].item.words == "Agrees with its drawing"
    summary = Summary.objects.get(tool=formal)
    assert summary.making
    assert summary.held_since == look.at


def test_one_look_frees_and_accepts_and_twice_is_harmless(formal, accept, client):
    happened.retire(formal)
    happened.accept(formal)
    happened.reinstate(formal)
    assert "accepted, it is freed as well" in client.get("/tools/NEW-1/accepted/").text
    assert "Free and accept it in one go" in client.get("/tools/NEW-1/looked-at/").text
    token = uuid4()
    for _twice in range(2):
        assert accept(token=token, **whole(pictures=sent())).status_code == 302
    kinds = list(Entry.objects.filter(tool=formal).order_by("pk").values_list("kind", flat=True))
    assert kinds[-4:] == ["inspected", "accepted", "reading", "reading"]
    summary = Summary.objects.get(tool=formal)
    assert (summary.accept_again, summary.held_since) == (False, None)
    assert Picture.objects.count() == 1


def test_rubbed_out_it_is_held_again_and_not_accepted(formal, accept, lead):
    happened.hold(formal, reason="a chip")
    assert accept(**whole()).status_code == 302
    deeds.rub_out(Entry.objects.get(kind="accepted"), recorded_by=lead, token=uuid4())
    summary = Summary.objects.get(tool=formal)
    assert summary.making
    assert summary.held_since is not None
    assert not Entry.objects.filter(tool=formal, kind="reading").standing().exists()


def test_a_calibration_that_was_over_is_asked_about(formal, accept):
    asked = errors(accept(**whole(measured2_calibrated_until="2020-01-01")))["anyway"]
    assert [words.startswith("The calibration of GM-60 ended on") for words in asked] == [True]


def test_it_goes_to_no_other_tool_and_a_correction_empties_none_of_it(formal, accept, send, shop, lead, hand):
    accept(**whole())
    entry = Entry.objects.get(kind="accepted")
    add_tool(code="NEW-2", name="Deck", kind=Kind.MOLD, release_system=shop.wax, in_making=True)
    said = {"because": "tool", "right_tool": "NEW-2"}
    answer = send("void", "NEW-1", number=entry.number, by=lead.pk, **said)
    assert "NEW-2 on its own evidence" in errors(answer)["right_tool"][0]
    for changes in ({"design_ref": ""}, {"note": ""}):
        with pytest.raises(Refused):
            deeds.correct(entry, reason="tidy", changes=changes, recorded_by=lead)
    rights.give(lead, "accept", since=now().date(), by=lead, at=now())
    with pytest.raises(Refused, match="no right to accept"):
        deeds.correct(entry, reason="tidy", changes={}, by=hand, recorded_by=lead)
    assert Entry.objects.get(kind="accepted") == entry


def test_said_for_yesterday_it_still_goes_through_the_list_of_today(formal, accept):
    set_items(Kind.MOLD, "acceptance", [*ITEMS, Item("Tag in its place")], by=None, at=now())
    late = {"at": "exact", "at_exact": f"{now() - timedelta(days=1):%Y-%m-%d %H:%M}", "version": "2"}
    assert errors(accept(**whole(**late))) == {"__all__": ["Not gone through yet: Tag in its place."]}
    who = {"by": None, "recorded_by": None}
    with pytest.raises(Refused, match="version 2 by now"):
        deeds.accept_on_evidence(formal, passed=True, checklist=1, answers="1 good\n2 good", **who)


def test_a_lead_corrects_which_design_it_was(made, accept, send):
    accept(**DESIGN, version="1", item_1="good")
    entry = Entry.objects.get(kind="accepted")
    typed = {"why": "the later one", "when": f"{entry.at:%Y-%m-%dT%H:%M}", "by": ""}
    assert (
        send("correct", "NEW-1", number=entry.number, **{**DESIGN, "design_revision": "D"}, **typed).status_code == 302
    )
    stands = Entry.objects.filter(kind="accepted").standing().get().payload
    assert (stands["design_ref"], stands["design_revision"], stands["answers"]) == ("D-12", "D", "1 good\n2 left")


def test_once_it_is_a_right_of_persons_only_those_accept(formal, accept, client, hand, lead):
    client.force_login(hand)
    other = Person.objects.named("Mara")
    rights.give(other, "accept", since=now().date() + timedelta(days=30), by=lead, at=now())
    assert client.get("/tools/NEW-1/accepted/").status_code == 403, "a right from a day to come is none today"
    rights.give(hand, "accept", since=now().date(), by=lead, at=now())
    assert client.get("/tools/NEW-1/accepted/").status_code == 200
    client.force_login(lead)
    assert "has no right to accept a tool" in errors(accept(**whole()))["by"][0]
    assert "Test lead has no right" in errors(accept(**whole(by=hand.pk)))["by"][0], "nor in somebody else's name"
    client.force_login(hand)
    assert accept(**whole(by="")).status_code == 302
    assert Entry.objects.get(kind="accepted").by == Person.objects.get(pk=hand.pk)


def test_who_lacks_the_right_is_told_at_once(formal, accept, client, hand, lead):
    rights.give(hand, "accept", since=now().date(), by=lead, at=now())
    assert "You do not have that right today." in client.get("/tools/NEW-1/accepted/").text
    assert "has no right to accept" in errors(accept(passed="yes", version="1"))["by"][0]


def test_what_came_off_no_plug_is_looked_over_in_its_own_words_and_steps_left_are_named(made, client):
    set_steps(Kind.MOLD, [Step("Planked"), Step("Faired"), Step("Sealed")])
    deeds.make_step(made, step="Planked", by=None, recorded_by=None)
    page = client.get("/tools/NEW-1/accepted/").text
    assert "It is hard, its steps are done, and I looked it over" in page
    assert "2 steps behind it are not written: Faired, Sealed." in page


def test_without_formal_records_one_tap_does_and_evidence_may_be_given(made, accept):
    entry = accept()
    assert entry.url == "/tools/NEW-1/"
    assert Entry.objects.get(kind="accepted").payload.keys() == {"asked"}
    deeds.make_step(made, step="filled", by=None, recorded_by=None)
    assert accept(looked="on", version="1", item_1="good", **DESIGN).status_code == 302
    last = Entry.objects.filter(kind="accepted").last()
    assert (last.payload["answers"], last.payload["design_ref"]) == ("1 good\n2 left", "D-12")


def test_at_a_station_it_wants_the_pin_each_time(formal, two, lead, send, accept):
    rights.give(two[0], "accept", since=now().date(), by=lead, at=now())
    mara = two[0].pk
    assert send("coat", by=mara, pin="8205", what="coat").url == "/wall/"
    refused = accept(**whole(by=mara))
    assert errors(refused) == {"by": ["For this the PIN of Mara is wanted each time."]}
    assert not Entry.objects.filter(kind="accepted", tool=formal).exists()
    assert accept(**whole(by=mara, pin="8205")).status_code == 302
    assert Entry.objects.get(kind="accepted", tool=formal).by == two[0]
