"""What goes along where another entry stands for one: on the same tool, on the right one, and when it is void."""

from uuid import uuid4

import pytest
from django.utils import timezone

from tests.tooling.pictures import add, file_of
from tests.tooling.rows import NOON
from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Entry, LeadNote, Picture, Summary
from tooling.selectors.lead_notes import unseen
from tooling.services import deeds
from tooling.services.deeds.unseen import hold_of
from tooling.services.entry_pictures import picture_of
from tooling.services.lead_notes import lead_saw
from tooling.services.pictures import make_main
from tooling.services.recheck import differences
from tooling.services.tools import add_tool, rules
from tooling.services.wiping import wipe

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def right(shop, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    return add_tool(code="HULL-9", name="Hull", kind="mold", release_system=shop.wax)


def put_right(entry, tool, lead):
    return deeds.put_right(entry, tool=tool, reason="wrong tool", by=lead, recorded_by=lead)


def test_on_the_right_tool_its_pictures_are_there_and_the_wrong_one_has_its_own(shop, right, lead):
    hold = happened.hold(shop.mold, reason="crack")
    own = add(shop.mold, 5)
    given = picture_of(hold, file_of(1), by=None, at=NOON).picture
    make_main(given)
    new = put_right(hold, right, lead)
    for picture in (own, given):
        picture.refresh_from_db()
    assert (given.entry, given.tool, given.main, own.main) == (new, right, False, True)


def test_on_the_right_tool_the_coat_is_wiped(shop, right, lead, hand):
    coat = happened.log_coat(shop.mold)
    wipe([coat], by=hand, recorded_by=hand)
    new = put_right(coat, right, lead)
    assert (new.wipes.count(), coat.wipes.count()) == (1, 0)


@pytest.mark.parametrize("seen", [True, False])
def test_what_a_lead_saw_is_not_told_again_on_the_right_tool(shop, right, lead, seen):
    note = happened.tell_lead(shop.mold, note="chip")
    if seen:
        lead_saw(note, by=lead, at=timezone.now())
    new = put_right(note, right, lead)
    assert [one.entry for one in unseen()] == ([] if seen else [new])
    assert LeadNote.objects.get().entry == new


@pytest.mark.parametrize("way", ["rub_out", "void", "put_right"])
def test_without_its_pull_the_insert_was_never_missing(shop, right, hand, lead, way):
    pull = deeds.log_pull(shop.mold, came_off="free", by=hand, recorded_by=hand)
    places = {"stuck": {shop.insert: "17"}, "gone": [], "back": []}
    deeds.place_inserts(pull, **places, by=hand, recorded_by=hand, token=uuid4())
    if way == "rub_out":
        deeds.rub_out_set(pull, recorded_by=hand)
    elif way == "void":
        deeds.void(pull, reason="none", by=lead, recorded_by=lead)
    else:
        put_right(pull, right, lead)
    assert not Entry.objects.filter(kind="removed").standing().exists()
    assert Summary.objects.get(tool=shop.insert).in_mold_of == shop.mold
    assert not list(differences(rules()))


def test_a_pull_corrected_to_stuck_is_held_once_until_somebody_has_looked(shop, hand, lead):
    pull = deeds.log_pull(shop.mold, came_off="free", by=hand, recorded_by=hand)
    new = deeds.correct(pull, reason="slip", changes={"came_off": "stuck"}, recorded_by=lead)
    assert hold_of(new) is not None
    deeds.correct(new, reason="more", changes={"serial": "17"}, recorded_by=lead)
    assert Entry.objects.filter(kind="hold").count() == 1
    looked = {"came_off": "stuck", "tool_damaged": False}
    other = deeds.log_pull(shop.insert, came_off="free", by=hand, recorded_by=hand)
    assert hold_of(deeds.correct(other, reason="slip", changes=looked, recorded_by=lead)) is None


def test_a_picture_of_what_was_corrected_meanwhile_goes_with_what_stands(client, shop, right, lead):
    note = happened.take_note(shop.mold, note="x")
    new = deeds.correct(note, reason="slip", changes={"note": "y"}, recorded_by=lead)
    assert picture_of(note, file_of(1), by=None, at=NOON).picture.entry == new
    assert Picture.objects.count() == 1
    client.force_login(lead)
    page = "/tools/DECK-2A/entries/{}/pictures/"
    assert client.get(page.format(note.number)).url == page.format(new.number)
