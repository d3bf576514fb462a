"""A form whose answer was lost is sent again, and the shop has gone on meanwhile: it gets its first answer again."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, PartRevision, Summary
from tooling.services.recheck import differences
from tooling.services.tins import open_tin
from tooling.services.tools import rules

pytestmark = [pytest.mark.django_db, pytest.mark.both]
EARLIER = {"at": "exact"}
# name of the address: the tool, what is sent
DEEDS = {
    "lay_up": ("DECK-2A", {"part_typed": "SK520-DECK", "serial": "7"}),
    "lay_up_done": ("DECK-2A", {}),
    "lay_up_done late": ("DECK-2A", EARLIER),
    "abandoned": ("DECK-2A", {"reason": "power cut"}),
    "abandoned late": ("DECK-2A", EARLIER),
    "pulled": ("DECK-2A", {"came_off": "tight", "part": "ODD", "serial": "6"}),
    "pulled late": ("DECK-2A", {"came_off": "free", "part": "ODD", "serial": "6", **EARLIER}),
    "coat": ("DECK-2A", {}),
    "coat of another recipe": ("DECK-2A", {"release_system": "SEMI"}),
    "film": ("DECK-2A", {}),
    "strip": ("DECK-2A", {"area": "whole"}),
    "hold": ("DECK-2A", {"words": "chip"}),
    "looked_at": ("DECK-2A", {"passed": "yes"}),
    "installed": ("DECK-2A", {"typed": "HATCH7"}),
    "removed": ("DECK-2A", {"which": "HATCH7"}),
    "removed from": ("HATCH7", {}),
    "interval": ("DECK-2A", {"count": "2"}),
    "release_system": ("DECK-2A", {"release_system": "SEMI"}),
}


@pytest.fixture
def tin(shop, lead):
    return open_tin(shop.wax, holder=lead, stuff="coat", lot="13", by=lead)


@pytest.fixture
def goes_on(shop, lead):
    """The part is pulled and another one with the same numbers begun, on another recipe; tin and times are new."""

    def go():
        PartRevision.objects.update(in_mold_hours=9)
        open_tin(shop.wax, holder=lead, stuff="coat", lot="14", by=lead)
        happened.log_pull(shop.mold, came_off="free")
        happened.strip(shop.mold)
        if Summary.objects.get(tool=shop.mold).state["system"] == "WAX":
            happened.change_release_system(shop.mold, release_system="SEMI")
        happened.lay_up(shop.mold, part="ODD", serial="6")
        happened.hold(shop.mold, reason="crack")

    return go


@pytest.mark.parametrize("name", DEEDS)
def test_it_is_answered_as_at_first(client, lead, shop, send, tin, goes_on, name):
    client.force_login(lead)
    happened.lay_up(shop.mold, part="ODD", serial="6", at=now() - timedelta(hours=2), earliest_pull=timedelta(hours=3))
    code, typed = DEEDS[name]
    typed = {**typed, "by": lead.pk, "tins": str(tin.pk), "anyway": "happened"}
    typed |= {"seen": "part_in_mold DECK-2A"} if name == "lay_up" else {}
    typed |= {"sure": "part ODD", "at_exact": f"{now() - timedelta(hours=1):%Y-%m-%dT%H:%M}"}
    address, token, before = name.split()[0], uuid4(), Entry.objects.count()
    first = send(address, code=code, token=token, **typed)
    assert first.status_code == 302, first.context["form"].errors
    written = Entry.objects.get(token=token)
    assert Entry.objects.count() > before
    goes_on()
    before = Entry.objects.count()
    del typed["sure"]
    again = send(address, code=code, token=token, **typed)
    assert (again.status_code, again.get("Location")) == (302, first.url)
    assert (Entry.objects.count(), Entry.objects.get(token=token)) == (before, written)
    assert not list(differences(rules()))


def test_what_was_left_alone_is_filled_in_from_what_is_in_it(client, hand, shop, send):
    client.force_login(hand)
    happened.lay_up(shop.mold, part="SK520-DECK", at=now() - timedelta(hours=2))
    late = now() - timedelta(hours=1)
    send("lay_up_done", at="exact", at_exact=f"{late:%Y-%m-%dT%H:%M}Z")
    done = Entry.objects.get(kind="lay_up_done")
    assert done.earliest_pull - done.at == timedelta(hours=24)
