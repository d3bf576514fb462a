"""A cut against a trim mask: what was spoiled holds it in the same step, and goes where the cut goes."""

from datetime import timedelta
from functools import partial
from uuid import uuid4

import pytest

from shared.clock import now
from shared.errors import Refused
from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Entry, Kind, Summary
from tooling.services import deeds as of_tools
from tooling.services.deeds.uses import NewlyAgainst
from tooling.services.recheck import differences
from tooling.services.tools import add_tool, rules
from trimfixtures.services import deeds

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def trim(shop, hand):
    return partial(deeds.trim, shop.mask, by=hand, recorded_by=hand)


def holds(tool):
    """Why the tool is held, as the rules have it; the ledger is whole."""
    assert not list(differences(rules()))
    return sorted(Summary.objects.get(tool=tool).state.get("holds", {}))


@pytest.mark.parametrize(("outcome", "why"), [("", []), ("off_size", []), ("gouged", ["hold"]), ("slipped", ["hold"])])
def test_what_was_spoiled_holds_it_and_twice_is_once(trim, shop, outcome, why):
    token = uuid4()
    for _ in range(2):
        trim(outcome=outcome, serial="0171", token=token)
    assert holds(shop.mask) == why
    assert list(shop.mask.entries.values_list("kind", flat=True)) == ["used", *why]


def test_rubbed_out_the_hold_goes_with_it_and_by_itself_it_stays(trim, shop, hand):
    cut = trim(outcome="gouged", token=uuid4())
    with pytest.raises(Refused, match="cut or the check"):
        of_tools.rub_out(Entry.objects.get(kind="hold"), recorded_by=hand)
    of_tools.rub_out(cut, recorded_by=hand)
    assert holds(shop.mask) == []
    trim(outcome="gouged", token=cut.token)
    assert holds(shop.mask) == []


def test_corrected_it_holds_from_then_on_and_frees_of_nothing(trim, shop, lead):
    said = {"by": lead, "recorded_by": lead, "reason": "asked again"}
    cut = of_tools.correct(trim(), changes={"outcome": "slipped"}, **said)
    assert holds(shop.mask) == ["hold"]
    of_tools.correct(cut, changes={"outcome": None}, **said)
    assert (holds(shop.mask), Entry.objects.filter(kind="hold").count()) == (["hold"], 1)


@pytest.mark.parametrize("earlier", [True, False])
def test_corrected_in_time_its_hold_goes_along_and_belongs_to_it_still(trim, shop, lead, earlier):
    said, moved = {"by": lead, "recorded_by": lead}, timedelta(hours=-1 if earlier else 1)
    cut = trim(outcome="gouged", at=now() - timedelta(hours=3))
    of_tools.inspect(shop.mask, passed=True, at=cut.at + timedelta(minutes=30), **said)
    new = of_tools.correct(cut, changes={"outcome": "slipped"}, reason="later", at=cut.at + moved, **said)
    hold = Entry.objects.filter(kind="hold").latest("pk")
    assert (hold.at, hold.payload["reason"]) == (new.at, "the cutter slipped, not looked at yet")
    assert holds(shop.mask) == ([] if earlier else ["hold"])
    with pytest.raises(Refused, match="cut or the check"):
        of_tools.rub_out(hold, recorded_by=lead)


def test_void_by_a_lead_it_holds_no_longer(trim, shop, lead, client):
    cut = trim(outcome="gouged")
    client.force_login(lead)
    assert "is void as well" in client.get(f"/tools/COAM-TRIM/entries/{cut.number}/void/").text
    of_tools.void(cut, reason="another trim mask", by=lead, recorded_by=lead)
    assert holds(shop.mask) == []
    assert not Entry.objects.filter(kind__in=["used", "hold"]).standing().exists()


def test_on_the_wrong_trim_mask_the_hold_goes_along(trim, shop, lead):
    other = add_tool(code="HATCH-TRIM", kind=Kind.TRIM_MASK, name="Hatch, trim mask")
    of_tools.put_right(trim(outcome="gouged"), tool=other, reason="wrong tool", by=lead, recorded_by=lead)
    assert (holds(shop.mask), holds(other)) == ([], ["hold"])


def test_what_came_against_it_meanwhile_is_asked_under_the_locks(trim, shop):
    happened.hold(shop.mask, reason="bent")
    with pytest.raises(NewlyAgainst):
        trim(seen=())
    assert not Entry.objects.filter(kind="used").exists()
    assert trim(seen=("held COAM-TRIM",)).payload["against"] == "held COAM-TRIM"
