"""Lending a tool and having it back: names and days by a tap, what is asked first, what cannot be, corrections."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared import clock
from shared.errors import Refused
from tests.tooling.pictures import sent
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Picture, Place, Shop, Summary
from tooling.services.ledger import record
from tooling.services.recheck import differences
from tooling.services.tools import rules

pytestmark = pytest.mark.django_db
TOOL, LEND, BACK = "/tools/COAM-TRIM/", "/tools/COAM-TRIM/lend/", "/tools/COAM-TRIM/handed-back/"
MASK = {"code": "COAM-TRIM"}


@pytest.fixture
def today(shop):
    return clock.now().astimezone(Shop.current().zone).date()


def loans():
    return [(one.payload.get("person"), one.payload.get("until")) for one in Entry.objects.filter(kind="lent")]


def lent(shop):
    return Summary.objects.get(tool=shop.mask)


def test_a_stranger_and_a_reader_lend_nothing(client, reader, shop):
    for address in (LEND, BACK):
        assert client.post(address).url.startswith("/sign-in/")
    client.force_login(reader)
    assert {getattr(client, way)(at).status_code for way in ("get", "post") for at in (LEND, BACK)} == {403}
    assert LEND not in client.get(TOOL).text
    assert loans() == []


def test_lent_and_handed_back_with_names_that_were_said_before(client, hand, send, shop, today):
    client.force_login(hand)
    tomorrow = today + timedelta(days=1)
    assert "to" not in client.get(LEND).context["form"].fields
    token = uuid4()
    for _twice in range(2):
        assert send("lend", **MASK, person=" The club ", until=f"{tomorrow}", token=token).url == TOOL
    assert loans() == [("The club", f"{tomorrow}")]
    page = client.get(TOOL).text
    assert "lent to The club until tomorrow" in page
    strip = page.partition('class="rub"')[2].partition("<form")[0]
    assert strip.count("Lent to The club") == 1
    assert BACK in page
    assert send("hand_back", **MASK).url == TOOL
    assert not lent(shop).lent
    assert dict(client.get(LEND).context["form"].fields["to"].choices) == {"The club": "The club"}
    send("lend", **MASK, to="The club", day=f"{today + timedelta(days=9)}", until=f"{tomorrow}")
    assert loans()[1] == ("The club", f"{today + timedelta(days=9)}")
    assert not list(differences(rules()))


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({}, "person", "To whom is it lent?"),
        ({"person": "   "}, "person", "To whom is it lent?"),
        ({"person": "A yard", "day": "2001-05-15"}, "day", "15 May 2001 is before the day on which it is lent"),
        ({"person": "A yard", "day": "soon"}, "day", "Write the day as 2026-05-15."),
        ({"person": "A yard", "until": "\x00"}, "until", "Choose one of those offered."),
    ],
)
def test_no_name_and_a_day_before_are_refused_and_kept(client, hand, send, shop, typed, field, says):
    client.force_login(hand)
    answer = send("lend", **MASK, note="with its pins", **typed)
    assert says in errors(answer)[field][0]
    assert "with its pins" in answer.text
    assert loans() == []


def test_the_ledger_takes_no_day_before_the_loan_either(shop, today):
    with pytest.raises(Refused, match="is before the day on which it is lent"):
        record(shop.mask, "lent", by=None, recorded_by=None, person="A yard", until=today - timedelta(days=1))
    record(shop.mask, "lent", by=None, recorded_by=None, person="A yard", until=today)


def test_a_late_loan_may_end_before_today(client, hand, send, shop, today):
    client.force_login(hand)
    when = {"at": "exact", "at_exact": f"{today - timedelta(days=9)}T10:00"}
    send("lend", **MASK, person="A yard", day=f"{today - timedelta(days=5)}", **when)
    assert "not back since" in client.get(TOOL).text
    before = {"at": "exact", "at_exact": f"{today - timedelta(days=10)}T10:00"}
    assert "nobody had it then" in errors(send("hand_back", **MASK, **before))["__all__"][0]
    send("hand_back", **MASK, at="exact", at_exact=f"{today - timedelta(days=4)}T10:00")
    assert not lent(shop).lent


def test_what_has_a_part_in_it_is_asked_about(client, hand, send, shop):
    client.force_login(hand)
    happened.lay_up(shop.mold, part="SK520-DECK", serial="7")
    asked = send("lend", person="A yard")
    [words] = errors(asked)["anyway"]
    assert words.startswith("By its history a part is in it. Part SK520-DECK, serial 7. Carried, it may slip")
    assert "Lend it all the same" in asked.text
    assert loans() == []
    send("lend", person="A yard", anyway=asked.context["form"].asks)
    assert loans() == [("A yard", None)]
    assert "By its history it is in DECK-2A." in errors(send("lend", code="HATCH7", person="A yard"))["anyway"]


def test_a_loan_over_another_one_is_asked_about_and_the_day_stays_proposed(client, hand, send, shop, today):
    client.force_login(hand)
    agreed = today + timedelta(days=40)
    happened.lend(shop.mask, person="A yard", until=agreed)
    assert client.get(LEND).context["form"]["until"].value() == f"{agreed}"
    [words] = errors(send("lend", **MASK, person="The club"))["anyway"]
    assert words.startswith("By its history it is lent to A yard")
    assert send("lend", **MASK, person="a yard", until=f"{agreed}").url == TOOL  # for longer, to the same
    assert len(loans()) == 2


def test_nothing_is_handed_back_that_nobody_has_and_a_sighting_ends_a_loan(client, hand, send, shop):
    client.force_login(hand)
    assert "nothing to hand back" in errors(send("hand_back", **MASK))["__all__"][0]
    happened.lend(shop.mask, person="A yard")
    send("move", **MASK, place=Place.objects.create(code="B-1", name="Rack B").pk)
    assert not lent(shop).lent
    assert BACK not in client.get(TOOL).text


def test_a_picture_goes_with_it_and_a_station_asks_whose_hands(client, station, hand, send, shop, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    client.force_login(station)
    assert errors(send("lend", **MASK, person="A yard")) == {"by": ["Whose hands were it?"]}
    answer = send("lend", **MASK, person="A yard", by=hand.pk, pictures=[sent(1)])
    entry = Entry.objects.get(kind="lent")
    assert (entry.by, answer.url) == (hand, f"{TOOL}entries/{entry.number}/pictures/")
    assert Picture.objects.filter(entry=entry).count() == 1


def test_a_loan_is_corrected_to_another_name_and_day(client, lead, send, shop, today):
    client.force_login(lead)
    entry = happened.lend(shop.mask, person="A yard", until=today)
    address = f"{TOOL}entries/{entry.number}/correct/"
    form = client.get(address).context["form"]
    typed = {name: form[name].value() for name in ("when", "person", "until")} | {"because": "tapped"}
    assert (typed["person"], typed["until"]) == ("A yard", f"{today}")
    assert "Nothing is changed yet" in send("correct", number=entry.number, **MASK, **typed).text
    wrong = send("correct", number=entry.number, **MASK, **{**typed, "person": "", "until": "2001-01-01"})
    assert errors(wrong).keys() == {"person", "until"}
    send("correct", number=entry.number, **MASK, **{**typed, "person": "The club", "until": ""})
    assert (lent(shop).lent_to, lent(shop).lent_until) == ("The club", None)
    assert not list(differences(rules()))
