"""A picture is given with an entry and marked; it is in the gallery after the others, and never lost."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from shared.errors import Refused
from tests.tooling.pictures import add, file_of
from tests.tooling.rows import NOON
from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Picture, ToolChange
from tooling.selectors.pictures import gallery, of_entries
from tooling.services import deeds
from tooling.services.entry_pictures import mark, picture_of
from tooling.services.pictures import make_main, move, put_back, replace_picture, take_down

__all__ = ["shop"]
pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(hours=1)


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def stop(shop):
    return happened.hold(shop.mold, reason="crack")


def give(entry, shade=1, **more):
    return picture_of(entry, file_of(shade, **more), by=None, at=NOON)


def test_the_same_again_is_the_one_that_is_there(stop, shop):
    assert [give(stop).is_new for _again in range(2)] == [True, False]
    other = give(happened.hold(shop.mold, reason="another crack"))
    assert other.is_new, "the same view with another entry says something else"
    assert [len(found) for found in of_entries([stop.pk, other.picture.entry.pk]).values()] == [1, 1]


def test_it_comes_after_the_others_and_is_the_main_one_only_where_a_lead_says_so(stop, shop):
    given = give(stop).picture
    own = add(shop.mold, 5)
    assert (given.main, own.main) == (False, True)
    shown = list(Picture.objects.on().filter(tool=shop.mold))
    assert shown == [own, given]
    move(given, by=-1)
    assert list(Picture.objects.on().filter(tool=shop.mold)) == shown
    take_down(own, by=None, at=NOON)
    given.refresh_from_db()
    assert not given.main
    make_main(given)
    assert not add(shop.mold, 6).main
    assert [gallery(shop.mold).given, len(gallery(shop.mold).old)] == [[given], 1]


def test_a_correction_takes_its_pictures_along(stop):
    given = give(stop).picture
    new = deeds.correct(stop, reason="typed wrong", changes={"reason": "chip"}, by=None, recorded_by=None)
    given.refresh_from_db()
    assert given.entry == new


def test_what_is_void_takes_no_picture(stop, hand):
    deeds.void(stop, reason="other tool", by=None, recorded_by=hand)
    with pytest.raises(Refused, match="is void"):
        give(stop)
    assert not Picture.objects.exists()


def test_a_mark_is_moved_and_where_it_was_is_kept(stop, lead):
    given = give(stop).picture
    for place in ((100, 900), (500, 500), (500, 500), None):
        mark(given, place, by=lead, at=NOON)
    given.refresh_from_db()
    assert given.mark is None
    told = ToolChange.objects.filter(field="mark").order_by("pk").values_list("before", "after", "who")
    assert list(told) == [("100 900", "500 500", lead.pk), ("500 500", "", lead.pk)]


def test_who_may_mark_and_where(stop, hand, lead, station):
    own = picture_of(stop, file_of(1), by=hand, at=NOON, recorded_by=station).picture
    mark(own, (0, 1000), by=station, at=NOON)
    with pytest.raises(Refused, match="or a lead"):
        mark(own, (1, 1), by=hand, at=NOON)
    with pytest.raises(Refused, match="beside the picture"):
        mark(own, (1, 1001), by=lead, at=NOON)
    with pytest.raises(IntegrityError), transaction.atomic():
        Picture.objects.filter(pk=own.pk).update(mark_x=None)


@pytest.mark.parametrize(("size", "kept"), [((180, 120), (100, 900)), ((60, 90), None)])
def test_a_new_picture_keeps_the_mark_where_it_has_the_same_shape(stop, lead, size, kept):
    old = give(stop).picture
    mark(old, (100, 900), by=lead, at=NOON)
    new = replace_picture(old, file_of(2, size), by=lead, at=LATER)
    assert (new.mark, new.entry) == (kept, stop)
    put_back(old, by=lead, at=LATER)
    assert of_entries([stop.pk])[stop.pk] == [new, old]
