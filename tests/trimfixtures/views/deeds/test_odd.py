"""Nonsense in the fields of trimmed and check: never a broken page, nothing half written."""

from itertools import cycle
from uuid import uuid4

import pytest

from tests.tooling.views.deeds.test_nonsense import ASKED_BY_MANY, NONSENSE, WORST
from tooling.services.recheck import differences
from tooling.services.tools import rules
from trimfixtures.models import Mask

pytestmark = pytest.mark.django_db
PAGES = ("trimmed/", "check/", "check/?measured=1")


@pytest.fixture(autouse=True)
def signed_in(client, lead, pulled, shop):
    client.force_login(lead)
    Mask.objects.create(tool=shop.mask, points="bow @ 0; keel")


@pytest.mark.both
@pytest.mark.parametrize("page", PAGES)
def test_one_odd_field_is_answered_and_the_ledger_stays_whole(client, page):
    address = f"/tools/COAM-TRIM/{page}"
    good = {
        "at": "now",
        "outcome": "good",
        "p0": "in" if page == "check/" else "0",
        "limit": "1",
        "asked_points": "bow",
    }
    fields = set(client.get(address).context["form"].fields) - ASKED_BY_MANY
    for field, odd in zip(sorted(fields), cycle(WORST), strict=False):
        sent = {**good, "token": str(uuid4()), field: odd}
        assert client.post(address, sent).status_code in (200, 302, 409), (field, odd[:20])
    assert not list(differences(rules()))


@pytest.mark.sqlite  # the form alone answers these: hardly one is written
@pytest.mark.parametrize("page", PAGES)
def test_odd_fields_together_are_answered(client, page):
    address, odds = f"/tools/COAM-TRIM/{page}", cycle(NONSENSE)
    fields = client.get(address).context["form"].fields
    for _ in range(3):
        typed = {field: next(odds) for field in fields if field != "token"}
        assert client.post(address, {**typed, "token": str(uuid4())}).status_code in (200, 302, 409)
