"""A defect is marked on a picture, kept out of a stop, seen again, closed and come back: by its pages."""

from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse

from shared import clock
from tests.tooling.pictures import add, sent
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Defect, Entry, LeadNote, Picture, Summary
from tooling.selectors.defects import defects_of, open_defects
from tooling.services.entry_pictures import mark

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    client.force_login(hand)
    return hand


@pytest.fixture
def main(shop):
    return add(shop.mold, 1)


@pytest.fixture
def cracked(shop, main):
    happened.take_note(shop.mold, defects="1 found crack, 12 mm, at 412 310, on the flange: by the bolt")
    return shop.mold


def now(tool):
    return defects_of(tool, clock.now())


def test_it_is_kept_with_its_place_kind_size_words_and_close_up(client, send, shop, main, signed_in):
    typed = {
        "on": main.pk,
        "x": 412,
        "y": 310,
        "kind": "crack",
        "place": "flange",
        "size": "12",
        "words": "by the bolt",
    }
    answer = send("defect_new", **typed, pictures=[sent(2)])
    assert answer.url == "/tools/DECK-2A/defects/1/"
    (one,) = now(shop.mold)
    assert (one.kind, one.where, one.mark, one.size_mm, one.last.words) == (
        "crack",
        "flange",
        (412, 310),
        12,
        "by the bolt",
    )
    assert (one.defect.picture, one.found.entry.by) == (main, signed_in)
    assert Picture.objects.get(entry=one.found.entry).defect == one.defect
    page = client.get(answer.url).text
    assert "Rub it out" in page
    assert "crack" in page
    assert Summary.objects.get(tool=shop.mold).held_since is None


def test_a_tap_without_a_script_sets_the_ring_and_keeps_what_was_typed(send, shop, main):
    answer = send("defect_new", on=main.pk, kind="pit", words="by the bolt", **{"phone.x": "144", "phone.y": "48"})
    assert (Entry.objects.filter(kind="note").count(), errors(answer)) == (0, {})
    form = answer.context["form"]
    assert (form["x"].value(), form["y"].value(), form["kind"].value()) == (500, 250, "pit")
    assert "by the bolt" in answer.text
    assert "mark-ring" in answer.text


def test_a_field_of_nine_and_no_picture_do_as_well(send, shop, main):
    send("defect_new", on=main.pk, kind="pit", field="833 167")
    send("defect_new", code="HATCH7", kind="loose")
    assert now(shop.mold)[0].mark == (833, 167)
    assert now(shop.insert)[0].mark is None


def test_it_may_stop_the_tool_at_once(client, send, shop, main):
    send("defect_new", on=main.pk, kind="crack", place="flange", words="through", stop="on")
    assert Entry.objects.get(kind="hold").payload["reason"] == "crack, flange: through"
    assert Summary.objects.get(tool=shop.mold).held_since is not None
    assert "held until somebody has looked" in client.get("/tools/DECK-2A/defects/1/").text


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"kind": ""}, "Say what it is"),
        ({"x": 1200, "y": 5}, "outside the picture"),
        ({"size": "0"}, "Above 0"),
        ({"on": 999_999, "x": 5, "y": 5}, "shown no longer"),
    ],
)
def test_bad_input_loses_nothing(send, shop, main, typed, said):
    answer = send("defect_new", **{"on": main.pk, "kind": "crack", "words": "by the bolt", **typed})
    assert said in answer.text
    assert answer.text.count("lies outside the picture") <= 1
    assert "by the bolt" in answer.text
    assert not Defect.objects.exists()


def test_one_from_before_the_record_is_asked_about_once(send, shop):
    typed = {"kind": "crack", "at": "exact", "at_exact": "1999-01-01T08:00"}
    asked = send("defect_new", **typed)
    assert (list(errors(asked)), "1 Jan 1999: nothing is written of this tool" in asked.text) == (["anyway"], True)
    assert not Defect.objects.exists()
    send("defect_new", **typed, anyway=asked.context["form"].asks)
    assert Defect.objects.count() == 1


def test_twice_is_harmless(send, shop, main):
    token = uuid4()
    for _again in range(2):
        assert send("defect_new", token=token, on=main.pk, kind="crack").url == "/tools/DECK-2A/defects/1/"
    assert len(now(shop.mold)) == 1


def test_what_was_told_is_kept_as_a_defect_with_picture_mark_and_words(client, send, shop, signed_in):
    send("tell_lead", note="dull by the keel", pictures=[sent(3)])
    told, picture = LeadNote.objects.get().entry, Picture.objects.get()
    mark(picture, (700, 200), by=signed_in, at=clock.now())
    form = client.get(reverse("defect_new", args=["DECK-2A"]), {"of": told.number}).context["form"]
    assert [form[name].value() for name in ("on", "x", "y", "words")] == [picture.pk, 700, 200, "dull by the keel"]
    send("defect_new", on=picture.pk, of=told.number, x=700, y=200, kind="dull", words="dull by the keel")
    picture.refresh_from_db()
    assert picture.defect == now(shop.mold)[0].defect == Defect.objects.get(picture=picture)


def test_it_is_seen_larger_then_gone_then_back(client, send, cracked):
    assert "Keep it as a defect" not in client.get("/tools/DECK-2A/defects/1/").text
    answer = send(
        "defect_seen", number=1, defect_1="larger", defect_1_size="18", defect_1_words="both ends", pictures=[sent(4)]
    )
    assert "Larger: 18 mm now, 12 mm at first." in client.get(answer.url).text
    send("defect_seen", number=1, defect_1="gone")
    assert open_defects(cracked, clock.now()) == []
    assert "18 mm, larger, both ends." in client.get("/tools/DECK-2A/?older=1").text
    send("defect_again", number=1, size="5", words="same place")
    (one,) = now(cracked)
    assert (one.is_open, [see.did for see in one.visits]) == (True, ["found", "seen", "closed", "opened"])
    assert [len(see.pictures) for see in client.get("/tools/DECK-2A/defects/1/").context["one"].visits] == [0, 1, 0, 0]


def test_it_is_said_how_it_is(send, cracked):
    answer = send("defect_seen", number=1, defect_1_size="18")
    assert errors(answer)["defect_1"] == ["Say how it is now."]
    assert 'value="18"' in answer.text


def test_a_station_is_asked_whose_hands(client, send, cracked, two):
    answer = send("defect_seen", number=1, defect_1="as_it_was")
    assert "by" in errors(answer)
    send("defect_seen", number=1, defect_1="as_it_was", by=two[0].pk, pin="8205")
    assert now(cracked)[0].last.entry.by == two[0]


def test_in_inches_for_whoever_reads_them(client, send, cracked, signed_in):
    type(signed_in).objects.filter(pk=signed_in.pk).update(units="us")
    send("defect_seen", number=1, defect_1="larger", defect_1_size="3/4")
    assert now(cracked)[0].size_mm == Decimal("19.05")
    assert "Larger: 3/4 in now" in client.get("/tools/DECK-2A/defects/1/").text


def test_a_lead_corrects_what_was_said_of_it(client, send, cracked, lead):
    client.force_login(lead)
    found = now(cracked)[0].found.entry
    form = client.get(reverse("correct", args=["DECK-2A", found.number])).context["form"]
    typed = {name: form[name].value() for name in form.fields if form[name].value() not in (None, "")}
    assert (typed["defect_1_kind"], typed["defect_1_size"], typed["defect_1_words"]) == ("crack", "12", "by the bolt")
    send(
        "correct",
        number=found.number,
        **{**typed, "defect_1_kind": "chip", "defect_1_size": "14", "why": "looked anew"},
    )
    (one,) = now(cracked)
    assert (one.kind, one.size_mm, one.mark, one.last.words) == ("chip", 14, (412, 310), "by the bolt")
