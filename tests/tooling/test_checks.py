"""The zone of the settings against the zone of the shop."""

import pytest

from tooling.checks import zone_is_the_shops
from tooling.models import Shop

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("given", "kept", "said"),
    [
        ("", "Europe/Oslo", []),
        ("Europe/Oslo", "Europe/Oslo", []),
        ("Europe/Oslo", "America/New_York", ["tooling.W001"]),
        ("Europe/Oslo", "", []),
    ],
)
def test_a_zone_that_differs_from_the_shops_is_said(given, kept, said, monkeypatch, settings):
    monkeypatch.setenv("TIME_ZONE", given)
    settings.TIME_ZONE = given or "UTC"
    if kept:
        Shop.objects.create(pk=1, time_zone=kept)
    assert [message.id for message in zone_is_the_shops(None, databases=["default"])] == said


def test_without_a_database_nothing_is_asked():
    assert zone_is_the_shops(None) == []
