"""A cut gouged: what it went into is one tap, and the part waits until it is cut again, or is lost."""

from uuid import uuid4

import pytest

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry
from trimfixtures.services import deeds

pytestmark = pytest.mark.django_db


@pytest.fixture
def gouged(client, hand, pulled, shop):
    client.force_login(hand)
    return deeds.trim(
        shop.mask, part="SK520-DECK", serial="0172", outcome="gouged", cutter="C6", by=hand, recorded_by=hand
    )


@pytest.fixture
def say(client, gouged):
    def tap(into, **said):
        page = f"/tools/COAM-TRIM/entries/{gouged.number}/cut-into/"
        return client.post(page, {"token": str(uuid4()), "at": "now", "into": into, **said})

    return tap


def used():
    return Entry.objects.filter(kind="used").latest("pk")


def waits(client):
    return {row.one.serial: row.spoilt for row in client.get("/trim/").context["rows"]}


def test_it_is_said_on_the_page_of_the_cross_and_frees_nothing(client, say, gouged):
    cross = client.get(f"/tools/COAM-TRIM/entries/{gouged.number}/cross/")
    assert f'action="/tools/COAM-TRIM/entries/{gouged.number}/cut-into/"' in cross.text
    assert say("both").url.endswith("/cross/")
    said = used()
    assert (said.payload["part_damaged"], said.payload["tool_damaged"]) == (True, True)
    assert (said.payload["cutter"], said.at, said.by) == ("C6", gouged.at, gouged.by)
    assert "The tool is marked. The part is marked." in client.get("/tools/COAM-TRIM/").text
    assert Entry.objects.filter(kind="hold").standing().count() == 1
    assert say("both").status_code == 302
    assert used() == said, "nothing new was said"


def test_the_part_waits_marked_until_it_is_cut_again(client, hand, shop, say):
    assert waits(client)["0172"].startswith("Gouged with COAM-TRIM")
    say("part")
    assert client.get("/tools/COAM-TRIM/trimmed/").context["form"].offered.serials[0] == "0172"
    happened.inspect(shop.mask, passed=True)
    deeds.trim(shop.mask, part="SK520-DECK", serial="0172", by=hand, recorded_by=hand)
    assert "0172" not in waits(client)


@pytest.mark.parametrize("into", ["trim_mask", "lost"])
def test_a_good_part_or_a_lost_one_waits_no_longer(client, say, shop, into):
    happened.inspect(shop.mask, passed=True)
    assert say(into).url == "/trim/"
    assert "0172" not in waits(client)
    assert ("The part is lost." in client.get("/tools/COAM-TRIM/").text) == (into == "lost")
    assert "Trimmed, gouged: " in client.get("/serials/0172/").text


def test_only_of_what_was_spoiled(client, hand, shop, say):
    assert errors(say("")) == {"into": ["Tap what was cut into."]}
    good = deeds.trim(shop.mask, serial="0171", by=hand, recorded_by=hand)
    assert client.get(f"/tools/COAM-TRIM/entries/{good.number}/cut-into/").status_code == 404
