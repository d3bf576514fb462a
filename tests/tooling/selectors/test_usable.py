"""Why a tool may not be used now: every family of reasons, for one tool and for several at once."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
import time_machine

from shared.clock import now
from shared.units import Read, unit_of
from tests.tooling.views.deeds.conftest import described as described
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Kind, PartRevision
from tooling.selectors.usable import inserts, registry
from tooling.selectors.usable.answer import reasons
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.services.temperature import measure
from tooling.services.tools import add_tool

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("described")]
PART = "SK520-DECK"


def asked(tool, part="", at=None, **more):
    return reasons([tool], at or now() + timedelta(seconds=1), part=part, **more)[tool.pk]


def keys(tool, part="", **more):
    return [one.key for one in asked(tool, part, **more)]


def test_a_ready_mold_has_none(shop):
    assert keys(shop.mold, PART) == []


def test_a_held_tool_says_who_held_it_and_what_stands_behind(shop):
    happened.want_wax(shop.mold)
    happened.hold(shop.mold, reason="chip")
    held, wax = asked(shop.mold)
    assert (held.key, held.override, held.deed.name) == ("held DECK-2A", "lead", "looked_at")
    assert "chip" in str(held.holds[0])
    assert (wax.key, wax.override, wax.mend) == ("needs_touch_up DECK-2A", "hand", "Put on one coat.")


def test_a_part_in_it_is_said_once(shop):
    happened.lay_up(shop.mold)
    assert keys(shop.mold) == ["part_in_mold DECK-2A"]


@pytest.mark.parametrize("deed", ["retire", "hold"])
def test_a_trim_mask_is_held_or_retired_at_the_asked_moment(shop, deed):
    assert keys(shop.mask) == []
    before = now()
    getattr(happened, deed)(shop.mask, reason="cracked")
    assert [one.split()[0] for one in keys(shop.mask)] == [{"retire": "retired", "hold": "held"}[deed]]
    assert keys(shop.mask, at=before - timedelta(seconds=1)) == []


def test_a_part_with_a_number_of_its_own_is_judged_by_it(shop):
    happened.set_interval(shop.mold, count=1, part=PART)
    happened.log_pull(shop.mold, came_off="free", part=PART)
    (reason,) = asked(shop.mold, PART.lower())
    assert (reason.key, reason.deed.name) == ("part_count DECK-2A", "coat")
    assert reason.text == "For sk520-deck it has 1 pull after a coat, and that is done."
    assert keys(shop.mold, "ANOTHER") == []


def test_an_insert_of_the_last_lay_up_that_is_not_in_it(shop):
    happened.log_pull(shop.mold, came_off="free")
    happened.remove(shop.insert)
    (reason,) = asked(shop.mold)
    assert (reason.key, reason.mend) == ("insert_out HATCH7", "Put it into DECK-2A.")
    happened.lay_up(shop.mold)
    assert keys(shop.mold) == ["part_in_mold DECK-2A"]


def test_where_nobody_writes_lay_ups_any_more_the_last_pull_says_what_was_in_it(shop):
    happened.lay_up(shop.mold)
    happened.log_pull(shop.mold, came_off="free")
    happened.remove(shop.insert)
    assert keys(shop.mold) == ["insert_out HATCH7"]
    happened.log_pull(shop.mold, came_off="free")
    assert keys(shop.mold) == []


def test_the_moves_of_an_insert_are_not_read_one_by_one(shop, django_assert_num_queries):
    happened.lay_up(shop.mold)
    happened.log_pull(shop.mold, came_off="free")
    other = add_tool(code="DECK-1", name="Deck", kind=Kind.MOLD, release_system=shop.wax)
    for _ in range(3):
        happened.remove(shop.insert)
        happened.install(shop.insert, mold=other)
        happened.remove(shop.insert)
        happened.install(shop.insert, mold=shop.mold)
    happened.remove(shop.insert)
    question = Asked([shop.mold, other], now() + timedelta(seconds=1))
    assert set(question.surfaces) == {shop.mold.pk, other.pk}
    assert question.shop
    with django_assert_num_queries(2):
        assert [(key, one.key) for key, one in inserts.reasons(question)] == [(shop.mold.pk, "insert_out HATCH7")]


def test_an_insert_that_stuck_in_the_part_is_missed(shop):
    happened.lay_up(shop.mold)
    happened.remove(shop.insert)
    happened.log_pull(shop.mold, came_off="free")
    assert keys(shop.mold) == ["insert_out HATCH7"]
    happened.install(shop.insert, mold=shop.mold)
    happened.log_coat(shop.insert)
    assert keys(shop.mold) == []


def test_a_tool_and_an_insert_are_not_used_before_their_dates(shop):
    shop.insert.not_before = date(2026, 12, 6)
    shop.insert.save()
    with time_machine.travel("2026-12-05T23:30:00Z"):
        (reason,) = asked(shop.mold)
        assert (reason.key, reason.text) == ("not_before HATCH7", "Not to be used before tomorrow.")
    with time_machine.travel("2026-12-06T00:30:00Z"):
        assert keys(shop.mold) == []


HEAT = [
    ({"peak_c": 75}, {"max_service_c": 70}, "too_hot DECK-2A"),
    ({"peak_c": 70}, {"max_service_c": 70}, None),
    ({"cure_c": 75}, {"max_service_c": 70}, "too_hot DECK-2A"),
    ({"cure_c": 75, "peak_c": 60}, {"max_service_c": 70}, None),
    ({"peak_c": 75}, {"glass_transition_c": 70}, "above_glass_transition DECK-2A"),
    ({"peak_c": 75}, {"max_service_c": 90, "glass_transition_c": 70}, None),
    ({}, {"max_service_c": 70}, "peak_not_said DECK-2A"),
    ({}, {"glass_transition_c": 70}, None),
    ({"peak_c": 75}, {}, None),
]


@pytest.mark.parametrize(("part", "tool", "key"), HEAT)
def test_a_part_hotter_than_its_tool_stands(shop, part, tool, key):
    PartRevision.objects.update(**part)
    type(shop.mold).objects.filter(pk=shop.mold.pk).update(**tool)
    shop.mold.refresh_from_db()
    found = asked(shop.mold, PART)
    assert [one.key for one in found] == ([key] if key else [])
    assert all(one.stops is (one.code == "too_hot") for one in found)
    assert all(one.override == "lead" for one in found if one.stops)


def test_the_filler_of_a_repair_and_the_recipe_stand_less(shop):
    PartRevision.objects.update(peak_c=75)
    happened.repair(shop.mold, area="spot", stands=60)
    shop.wax.versions.update(max_part_cure_c=65)
    texts = {one.key: one.text for one in asked(shop.mold, PART, units="us") if one.override == "lead"}
    assert texts.keys() == {"too_hot DECK-2A", "recipe_too_hot DECK-2A", "recipe_too_hot HATCH7"}
    assert "filler stands 140 °F" in texts["too_hot DECK-2A"]
    assert "gets as hot as 167 °F; the release recipe WAX stands 149 °F" in texts["recipe_too_hot HATCH7"]


def test_vacuum_is_told_where_the_part_is_bagged_and_stops_nothing(shop):
    assert keys(shop.mold, PART) == []
    PartRevision.objects.update(process="Vacuum infusion")
    (note,) = asked(shop.mold, PART)
    assert (note.key, note.stops) == ("vacuum_not_measured DECK-2A", False)
    happened.take_reading(shop.mold, quantity="gloss", value=80, unit="GU")
    for value in (9, 12):
        happened.take_reading(shop.mold, quantity="Vacuum drop", value=value, unit="mbar in 10 min")
    (note,) = asked(shop.mold, PART)
    assert note.text.startswith("Vacuum drop: 12 mbar in 10 min, measured today")
    happened.resurface(shop.mold)
    assert asked(shop.mold, PART)[-1].text == "Vacuum drop: not measured since the surface was worked on."


def measured(celsius, **when):
    read = Read(str(celsius), Fraction(celsius), unit_of("°C", "metric"))
    measure(read, by=None, recorded_by=None, **when)


def test_how_warm_the_shop_is_to_be(shop):
    assert keys(shop.mold) == []
    shop.wax.versions.update(low_c=18, high_c=28)
    (note,) = asked(shop.mold)
    assert (note.key, note.stops, note.deed.name) == ("shop_not_measured DECK-2A", False, "temperature")
    assert note.mend == "WAX wants 18 °C to 28 °C."
    measured(14)
    (cold,) = asked(shop.mold)
    assert (cold.key, cold.override) == ("shop_cold DECK-2A", "hand")
    assert cold.text.startswith("14 °C in the shop, measured today")
    measured(18)
    assert keys(shop.mold) == []
    measured(29)
    assert keys(shop.mold) == ["shop_hot DECK-2A"]


@pytest.mark.parametrize(
    ("known", "wants"), [({"low_c": 18}, "WAX wants at least 18 °C."), ({"high_c": 28}, "WAX wants at most 28 °C.")]
)
def test_a_recipe_may_have_one_end_only(shop, known, wants):
    shop.wax.versions.update(**known)
    assert asked(shop.mold)[0].mend == wants


def test_several_tools_take_as_many_queries_as_two(shop, django_assert_max_num_queries):
    PartRevision.objects.update(process="bagged", peak_c=75)
    tools = [shop.mold, shop.insert, shop.mask]
    with django_assert_max_num_queries(25) as few:
        reasons(tools, now(), part=PART)
    for number in range(4):
        mold = add_tool(code=f"M-{number}", name="A mold", kind=Kind.MOLD, release_system=shop.wax)
        insert = add_tool(code=f"I-{number}", name="An insert", kind=Kind.INSERT, release_system=shop.wax)
        happened.install(insert, mold=mold)
        tools += [mold, insert]
    with django_assert_max_num_queries(len(few)):
        found = reasons(tools, now(), part=PART)
    assert found.keys() == {tool.pk for tool in tools}


def test_an_app_adds_a_family_of_its_own(shop, monkeypatch):
    monkeypatch.setattr(registry, "_families", list(registry.families()))

    def dull(asked):
        yield from ((tool.pk, Reason("dull", tool.code, "Dull.")) for tool in asked.tools if tool.kind == "trim_mask")

    registry.register(dull)
    registry.register(dull)
    assert keys(shop.mask) == ["dull COAM-TRIM"]
    assert keys(shop.mold) == []


def test_every_code_that_stops_has_its_words_in_the_history_and_in_the_readme(settings):
    from tooling.calc.status import ORDER
    from tooling.selectors.usable.surfaces import USABLE
    from tooling.words.usable import AGAINST, against

    assert set(ORDER) - USABLE <= AGAINST.keys()
    readme = (settings.BASE_DIR / "README.md").read_text()
    assert not [code for code in AGAINST if f"`{code}`" not in readme]
    assert against("held DECK-2A, odd X-1,") == "held (DECK-2A), odd (X-1)"
    assert against("") == ""
