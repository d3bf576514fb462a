"""A trim mask that is held: which points were out, and which parts were cut since a check passed."""

import re
from uuid import uuid4

import pytest

from tests.tooling.views.deeds.conftest import happened
from trimfixtures.models import Mask
from trimfixtures.services import deeds

pytestmark = pytest.mark.django_db


@pytest.fixture
def failed(client, hand, shop):
    """A check that passed, three parts, and one that failed by numbers."""
    client.force_login(hand)
    Mask.objects.create(tool=shop.mask, points="bow @ 0; stern @ 900")
    who = {"by": hand, "recorded_by": hand}
    deeds.trim(shop.mask, part="SK520-DECK", serial="0168", **who)
    deeds.check_edge(shop.mask, points="bow @ 0: in", **who)
    deeds.trim(shop.mask, part="SK520-DECK", serial="0170, 0171", count=3, **who)
    return deeds.check_edge(shop.mask, points="bow @ 0: -0.61; stern @ 900: +0.1", limit_mm="0.5", **who)


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).split())


def test_what_a_failed_check_found_and_the_parts_since_are_named(client, shop, failed):
    for page in (f"entries/{failed.number}/cross/", "looked-at/", "checks/"):
        said = words(client.get(f"/tools/COAM-TRIM/{page}"))
        assert "3 parts were cut since a check passed" in said
        assert "SK520-DECK : 0170 , 0171 , 1 without a serial number" in said
    said = words(client.get("/tools/COAM-TRIM/looked-at/"))
    assert "bow: \N{MINUS SIGN}0.61 mm, out: cut too deep; tolerance ±0.5 mm." in said
    assert said.index("Check the cut edge") < said.index("May it be used?")


def test_freed_it_is_to_be_checked_and_a_stop_by_hand_names_the_parts_too(client, shop, failed):
    happened.inspect(shop.mask, passed=True)
    assert "Usable by its record: a check of its cut edge is wanted;" in words(client.get("/tools/COAM-TRIM/"))
    assert "Parts to look at" not in client.get("/tools/COAM-TRIM/looked-at/").text
    client.post("/tools/COAM-TRIM/hold/", {"token": str(uuid4()), "at": "now", "words": "bent"})
    assert "3 parts were cut since a check passed" in words(client.get("/tools/COAM-TRIM/hold/"))
