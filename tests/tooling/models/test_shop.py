"""The one row of the shop."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from tooling.models import Shop

pytestmark = pytest.mark.django_db


def test_before_there_is_a_shop_the_settings_say_the_zone(settings):
    settings.TIME_ZONE = "America/New_York"
    assert Shop.current().pk is None
    assert Shop.current().zone.key == "America/New_York"


def test_there_is_one_shop():
    Shop(name="First", time_zone="Europe/Oslo").save()
    Shop(name="Second", time_zone="Europe/Oslo").save()
    assert [shop.name for shop in Shop.objects.all()] == ["Second"]
    with pytest.raises(IntegrityError), transaction.atomic():
        Shop.objects.bulk_create([Shop(pk=2, time_zone="UTC")])


@pytest.mark.parametrize(
    "good",
    [
        {"week": "Mon-Fri 08:00-17:00"},
        {"week": "mon-thu 7:00-16:00, Fri 07:00-12:00"},
        {"week": "Fri 22:00-06:00"},
        {"closed_days": "2026-12-24, 2026-12-25"},
        {"hands": 6},
    ],
)
def test_what_a_shop_says_of_itself(good):
    Shop(pk=1, name="x", time_zone="UTC", **good).full_clean()


@pytest.mark.parametrize(
    ("field", "wrong"),
    [
        ("time_zone", "Mars/Base"),
        ("time_zone", "../etc/passwd"),
        ("week", "weekdays"),
        ("week", "Mon-Fri 8-17"),
        ("week", "Mon-Fri 25:00-26:00"),
        ("closed_days", "24.12.2026"),
        ("hands", 0),
        ("hands", 10000),
    ],
)
def test_what_a_shop_cannot_say(field, wrong):
    with pytest.raises(ValidationError) as refusal:
        Shop(**{"pk": 1, "name": "x", "time_zone": "UTC", field: wrong}).full_clean()
    assert list(refusal.value.message_dict) == [field]
