"""No go: each reason with what mends it, who may start all the same, and what came in between."""

import sys
from uuid import uuid4

import pytest

from shared.errors import Refused
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Flag, PartRevision, Person
from tooling.selectors.usable.reason import Reason
from tooling.services import deeds

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/lay-up/"
HELD = {"seen": "held DECK-2A"}
WAX = {"seen": "needs_touch_up HATCH7"}


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def lay_ups():
    return Entry.objects.filter(kind="lay_up").count()


def codes(page):
    return [reason.code for reason in page.context["stops"]]


def test_every_surface_that_is_not_ready_says_what_mends_it(client, shop):
    happened.want_wax(shop.insert)
    page = client.get(PAGE)
    assert [(one.tool, one.mend, one.deed.name) for one in page.context["stops"]] == [
        ("HATCH7", "Put on one coat.", "coat")
    ]
    assert 'href="/tools/HATCH7/coat/"' in page.text
    assert 'name="seen" value="needs_touch_up HATCH7"' in page.text


def test_a_no_go_is_not_started_by_mistake(send, shop):
    happened.want_wax(shop.insert)
    answer = send("lay_up", part_typed="SK520-DECK", **WAX)
    assert "If it is started all the same, say why." in errors(answer)["__all__"][0]
    assert 'value="SK520-DECK"' in answer.text
    answer = send("lay_up", part_typed="SK520-DECK", anyway="start", reason_words="  ", **WAX)
    assert "Say why" in errors(answer)["reason"][0]
    assert lay_ups() == 0


@pytest.mark.parametrize(
    ("typed", "kept", "told"),
    [
        ({"reason": "urgent"}, "urgent", "the part is urgent"),
        ({"reason_words": "the yard waits"}, "the yard waits", "the yard waits"),
        ({"reason": "urgent", "reason_words": "Friday"}, "the part is urgent; Friday", "the part is urgent; Friday"),
    ],
)
def test_a_hand_says_why_and_the_history_keeps_it(client, send, shop, typed, kept, told):
    happened.want_wax(shop.insert)
    assert send("lay_up", anyway="start", **typed, **WAX).status_code == 302
    entry = Entry.objects.get(kind="lay_up")
    assert (entry.payload["reason"], entry.payload["against"]) == (kept, "needs_touch_up HATCH7")
    assert "used_overdue" in Flag.objects.filter(entry=entry).values_list("flag", flat=True)
    page = client.get("/tools/DECK-2A/").text
    assert "What stood against it: a coat wanted (HATCH7)." in page
    assert f"Started all the same: {told}." in page


def test_only_a_lead_starts_in_a_held_mold(client, send, shop, lead):
    happened.hold(shop.mold, reason="chip")
    page = client.get(PAGE).text
    assert 'value="happened"' in page
    assert 'value="start"' not in page
    answer = send("lay_up", anyway="start", reason="urgent", **HELD)
    assert "Only a lead" in errors(answer)["__all__"][0]
    assert lay_ups() == 0
    client.force_login(lead)
    page = client.get(PAGE).text
    assert 'value="start"' in page
    assert 'value="happened"' not in page
    assert send("lay_up", by=lead.pk, anyway="start", reason="trial", **HELD).status_code == 302


def test_a_hand_writes_down_what_has_happened(send, shop):
    happened.hold(shop.mold, reason="chip")
    assert send("lay_up", anyway="happened", **HELD).status_code == 302
    assert "used_on_hold" in Flag.objects.filter(entry__kind="lay_up").values_list("flag", flat=True)
    assert Entry.objects.get(kind="lay_up").payload["against"] == "held DECK-2A"


def test_at_a_station_the_hands_decide(client, send, shop, station, hand, lead):
    happened.hold(shop.mold, reason="chip")
    client.force_login(station)
    page = client.get(PAGE).text
    assert 'value="start"' in page
    assert 'value="happened"' in page
    assert send("lay_up", by=hand.pk, anyway="start", reason="trial", **HELD).status_code == 200
    assert send("lay_up", by=lead.pk, anyway="start", reason="trial", **HELD).status_code == 302


def test_a_tool_in_the_making_is_for_a_lead(client, shop):
    happened.make_step(shop.mold, step="polish")
    page = client.get(PAGE)
    assert codes(page) == ["making"]
    assert page.context["stops"][0].override == "lead"


def test_what_came_in_between_is_asked_with_all_that_was_typed(send, shop):
    happened.want_wax(shop.insert)
    happened.hold(shop.mold, reason="chip")
    typed = {"part_typed": "SK520-DECK", "serial": "0173", "reason_words": "the yard waits", "note": "by the bow"}
    for anyway in ("start", "happened"):
        answer = send("lay_up", anyway=anyway, **typed, **WAX)
        assert "It is no go" in errors(answer)["__all__"][0]
        assert all(word in answer.text for word in typed.values())
    assert codes(answer) == ["held", "needs_touch_up"]
    assert lay_ups() == 0


def test_a_part_of_two_hands_at_one_moment_is_asked_about_under_the_locks(send, shop, monkeypatch):
    ines = Person.objects.named("Ines")
    monkeypatch.setattr(sys.modules["tooling.views.deeds.lay_up"], "reasons", sees_nothing_the_first_time(shop.mold))
    deeds.lay_up(shop.mold, by=ines, recorded_by=ines)
    answer = send("lay_up", serial="0174")
    assert "Something else stands against it by now" in errors(answer)["__all__"][0]
    assert codes(answer) == ["part_in_mold"]
    assert "0174" in answer.text
    assert lay_ups() == 1


def sees_nothing_the_first_time(mold):
    answers = iter([{mold.pk: []}, {mold.pk: [Reason("part_in_mold", "DECK-2A", "Part in the mold.")]}])
    return lambda tools, at, **asked: next(answers)


def test_the_service_writes_nothing_that_was_not_seen(shop):
    happened.want_wax(shop.insert)
    with pytest.raises(Refused):
        happened.lay_up(shop.mold, seen=["held DECK-2A"])
    assert lay_ups() == 0
    assert happened.lay_up(shop.mold).payload.get("against") is None


def test_the_same_form_again_gets_its_first_answer_whatever_stands_by_then(send, shop):
    happened.want_wax(shop.insert)
    token = uuid4()
    for _ in range(2):
        assert send("lay_up", token=token, anyway="start", reason="urgent", **WAX).status_code == 302
    assert lay_ups() == 1


def test_a_film_that_is_said_to_be_on_is_not_missing(client, send, shop):
    shop.wax.versions.update(film_every_pull=True)
    assert codes(client.get(PAGE)) == ["needs_film", "needs_film"]
    assert send("lay_up", film="on").status_code == 302


def test_another_part_has_reasons_of_its_own(send, shop):
    shop.mold.max_service_c = 60
    shop.mold.save()
    PartRevision.objects.update(peak_c=75)
    answer = send("lay_up", part_typed="SK520-DECK")
    assert codes(answer) == ["too_hot"]
    assert lay_ups() == 0
    assert send("lay_up").status_code == 302


@pytest.mark.parametrize("nonsense", ["", "\x00", "💥" * 500, "yes", "[]", "held", "<b>"])
def test_nonsense_starts_nothing(send, shop, nonsense):
    happened.hold(shop.mold, reason="chip")
    answer = send("lay_up", anyway=nonsense, seen=[nonsense, "held DECK-2A"], reason=nonsense, filled_in=nonsense)
    assert answer.status_code == 200
    assert lay_ups() == 0
