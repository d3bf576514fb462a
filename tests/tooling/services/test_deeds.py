"""Every kind of entry has its deed, and each leaves its entry, its number, its link and a history without fault."""

from datetime import timedelta
from decimal import Decimal

import pytest

from shared import clock
from tooling.calc.entry import KINDS
from tooling.models import Entry, Kind, Person, Place, Summary
from tooling.services import chain, deeds
from tooling.services.recheck import differences
from tooling.services.starters import STARTERS, add_starter
from tooling.services.tools import add_tool, rules
from trimfixtures.services import deeds as mask_deeds

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop(db):
    first, second = (add_starter(name).system for name in list(STARTERS)[:2])
    bench = Place.objects.create(code="BENCH", name="Bench")
    mold = add_tool(code="HULL-1", name="Hull", kind=Kind.MOLD, release_system=first, place=bench)
    rim = add_tool(code="RIM-1", name="Rim", kind=Kind.INSERT, release_system=first)
    mask = add_tool(code="TRIM-1", name="Trim", kind=Kind.TRIM_MASK)
    return {"mold": mold, "rim": rim, "mask": mask, "bench": bench, "second": second.code}


def all_deeds(shop):
    """One of each deed, as (kind, function, tool, what it says)."""
    mold, rim, mask = shop["mold"], shop["rim"], shop["mask"]
    return [
        ("making", deeds.make_step, mold, {"step": "sanding"}),
        ("accepted", deeds.accept, mold, {}),
        ("starting_state", deeds.set_starting_state, mold, {"prepared": "no", "total_pulls": 3}),
        ("sealer", deeds.log_sealer, mold, {"count": 2}),
        ("coat", deeds.log_coat, mold, {"count": 5, "lot": "tin 14", "reason": "count"}),
        ("film", deeds.lay_film, mold, {}),
        ("installed", deeds.install, rim, {"mold": mold}),
        ("lay_up", deeds.lay_up, mold, {"part": "K-520", "serial": "0173", "film": True}),
        ("lay_up_done", deeds.end_lay_up, mold, {"earliest_pull": clock.now()}),
        ("pull", deeds.log_pull, mold, {"came_off": "tight", "surface": rim, "cause": "release", "fault": "drag"}),
        ("removed", deeds.remove, rim, {"serial": "0173"}),
        ("abandoned", deeds.abandon, mold, {"reason": "resin kicked"}),
        ("clean", deeds.clean, mold, {}),
        ("strip", deeds.strip, mold, {"area": "flange"}),
        ("repair", deeds.repair, mold, {"area": "spot"}),
        ("polish", deeds.polish, mold, {}),
        ("resurfaced", deeds.resurface, mold, {}),
        ("build_up", deeds.see_build_up, mold, {}),
        ("release_check", deeds.check_release, mold, {"passed": False}),
        ("wax_wanted", deeds.want_wax, mold, {"reason": "looks dry"}),
        ("hold", deeds.hold, mold, {"reason": "chip"}),
        ("inspected", deeds.inspect, mold, {"passed": True}),
        ("interval", deeds.set_interval, mold, {"count": 3, "evidence": "3 of 6 hard"}),
        ("release_system", deeds.change_release_system, mold, {"release_system": shop["second"]}),
        ("moved", deeds.move, mold, {"place": shop["bench"], "home": True}),
        ("lent", deeds.lend, mold, {"person": "The yard next door", "until": clock.now().date()}),
        ("handed_back", deeds.hand_back, mold, {}),
        ("note", deeds.take_note, mold, {"note": "new trolley"}),
        ("reading", deeds.take_reading, mold, {"quantity": "gloss", "value": Decimal("87.50"), "unit": "GU"}),
        ("retired", deeds.retire, mold, {"reason": "worn"}),
        ("reinstated", deeds.reinstate, mold, {"reason": "needed"}),
        ("used", mask_deeds.log_use, mask, {"serial": "0173"}),
        ("check", mask_deeds.log_check, mask, {"passed": True}),
    ]  # fmt: skip


def test_each_kind_has_its_deed(shop):
    assert {kind for kind, *_ in all_deeds(shop)} | {"void"} == KINDS


def test_each_deed_leaves_its_entry(shop):
    ada = Person.objects.named("Ada")
    start = clock.now() - timedelta(days=2)
    for step, (kind, deed, tool, said) in enumerate(all_deeds(shop)):
        entry = deed(tool, by=ada, recorded_by=ada, at=start + timedelta(minutes=step), **said)
        stored = Entry.objects.get(pk=entry.pk)
        assert (stored.kind, stored.by, stored.recorded_by) == (kind, ada, ada)
        summary = Summary.objects.get(tool=tool)
        assert (summary.count, summary.head) == (stored.number, stored.link)
    assert list(chain.verify()) == []
    assert list(differences(rules())) == []


def test_a_deed_without_a_time_is_now(shop):
    before = clock.now()
    entry = deeds.take_note(shop["mold"], note="x", by=None, recorded_by=None)
    assert before <= entry.at == entry.recorded_at <= clock.now()


def test_a_decimal_is_kept_to_the_digit(shop):
    entry = deeds.take_reading(
        shop["mold"], quantity="gloss", value=Decimal("87.50"), unit="GU", by=None, recorded_by=None
    )  # fmt: skip
    assert Entry.objects.get(pk=entry.pk).payload["value"] == "87.50"
