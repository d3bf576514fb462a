"""For every reason what brings it about and what mends it, by the services that the screens call.

Each function does what is wrong, stops (`yield`), and mends it; where only waiting helps it says how long.
"""

from datetime import timedelta
from decimal import Decimal

from shared.clock import now
from tests.tooling.selectors.mending import MENDS as MENDS
from tests.tooling.selectors.mending import celsius, measured, mends, part, recipe, tool
from tests.tooling.views.deeds.conftest import happened
from tooling.models import Kind, Place
from tooling.services import lead_notes, tool_sets
from tooling.services.reading_limits import set_limit
from tooling.services.shop import change_shop
from tooling.services.tools import add_tool


@mends("retired")
def retired(s):
    happened.retire(s.mask, reason="worn")
    yield
    happened.reinstate(s.mask)


@mends("held")
def held(s):
    happened.hold(s.mold, reason="chip")
    yield
    happened.inspect(s.mold, passed=True)


@mends("making")
def making(s):
    happened.make_step(s.mold, step="sanded")
    yield
    happened.accept(s.mold)


@mends("not_accepted")
def not_accepted(s):
    happened.retire(s.mask, reason="worn")
    change_shop({"formal_records": True})
    happened.reinstate(s.mask)
    yield
    happened.accept(s.mask)


@mends("part_in_mold")
def part_in_mold(s):
    happened.lay_up(s.mold)
    yield
    happened.log_pull(s.mold, came_off="free")


@mends("needs_strip")
def needs_strip(s):
    happened.see_build_up(s.mold)
    yield
    happened.strip(s.mold)


@mends("not_prepared")
def not_prepared(s):
    happened.strip(s.insert)
    yield
    happened.log_coat(s.insert)


@mends("preparing")
def preparing(s):
    recipe(s, coats_again="2")
    happened.strip(s.mold)
    happened.log_coat(s.mold)
    yield
    happened.log_coat(s.mold)


@mends("needs_touch_up")
def needs_touch_up(s):
    happened.want_wax(s.mold)
    yield
    happened.log_coat(s.mold)


@mends("part_count")
def part_count(s):
    happened.set_interval(s.mold, count=1, part=s.revision.part.number)
    happened.log_pull(s.mold, came_off="free")
    yield
    happened.log_coat(s.mold)


@mends("curing")
def curing(s):
    recipe(s, cure_hours_touch_up="2")
    happened.want_wax(s.mold)
    happened.log_coat(s.mold)
    yield
    yield timedelta(hours=2)


@mends("needs_film")
def needs_film(s):
    recipe(s, film_every_pull="yes")
    yield
    for one in (s.mold, s.insert):
        happened.lay_film(one)


@mends("film_drying")
def film_drying(s):
    recipe(s, film_every_pull="yes", film_dry_minutes="30")
    happened.lay_film(s.mold)
    yield
    yield timedelta(minutes=30)


@mends("insert_out")
def insert_out(s):
    s.revision.tool_set.filter(tool=s.insert).delete()
    happened.log_pull(s.mold, came_off="free")
    happened.remove(s.insert)
    yield
    happened.install(s.insert, mold=s.mold)


@mends("insert_missing")
def insert_missing(s):
    happened.remove(s.insert)
    yield
    happened.install(s.insert, mold=s.mold)


@mends("insert_elsewhere")
def insert_elsewhere(s):
    other = add_tool(code="OTHER", name="Other", kind=Kind.MOLD)
    happened.remove(s.insert)
    happened.install(s.insert, mold=other)
    yield
    happened.remove(s.insert)


@mends("half_missing", typed=True)
def half_missing(s):
    tool(s, s.mold, matched_set="Deck")
    half = add_tool(code="DECK-2C", name="Half", kind=Kind.MOLD, matched_set="Deck")
    yield
    tool_sets.add_line(s.revision, "mold", tool=half, by=s.lead, at=now())


@mends("wrong_hand", typed=True)
def wrong_hand(s):
    tool(s, s.mold, hand="L")
    tool(s, s.mask, hand="R")
    yield
    left = add_tool(code="TRIM-L", name="Coaming, left", kind=Kind.TRIM_MASK, hand="L")
    tool_sets.take_out(s.revision.tool_set.get(tool=s.mask), by=s.lead, at=now())
    tool_sets.add_line(s.revision, "trim_mask", tool=left, by=s.lead, at=now())


@mends("too_hot", typed=True)
def too_hot(s):
    tool(s, s.mold, max_service_c=celsius(70))
    part(s, peak_c=celsius(75))
    yield
    part(s, peak_c=celsius(70))


@mends("recipe_too_hot", typed=True)
def recipe_too_hot(s):
    recipe(s, max_part_cure_c="70")
    part(s, peak_c=celsius(75))
    yield
    part(s, peak_c=celsius(70))


@mends("above_glass_transition", typed=True)
def above_glass_transition(s):
    tool(s, s.mold, glass_transition_c=celsius(70))
    part(s, peak_c=celsius(75))
    yield
    tool(s, s.mold, max_service_c=celsius(80))


@mends("peak_not_said", typed=True)
def peak_not_said(s):
    tool(s, s.mold, max_service_c=celsius(70))
    yield
    part(s, peak_c=celsius(70))


@mends("not_before", typed=True)
def not_before(s):
    tool(s, s.mold, not_before=(now() + timedelta(days=2)).date())
    yield
    yield timedelta(days=3)


@mends("lent")
def lent(s):
    happened.lend(s.mask, person="The club")
    yield
    happened.hand_back(s.mask)


@mends("place_unknown")
def place_unknown(s):
    happened.move(s.mask, place=None)
    yield
    happened.move(s.mask, place=s.rack)


@mends("not_home")
def not_home(s):
    happened.move(s.mask, place=Place.objects.create(code="B", name="Bench"))
    yield
    happened.move(s.mask, place=s.rack)


@mends("not_confirmed", typed=True)
def not_confirmed(s):
    s.revision.tool_set.update(confirmed=False)
    yield
    tool_sets.confirm(s.revision, by=s.lead, at=now())


@mends("look_over_wanted")
def look_over_wanted(s):
    tool(s, s.mold, inspect_every_pulls=1)
    happened.log_pull(s.mold, came_off="free")
    yield
    happened.inspect(s.mold, passed=True)


@mends("shop_not_measured")
def shop_not_measured(s):
    recipe(s, low_c="18")
    yield
    measured(18)


@mends("shop_cold")
def shop_cold(s):
    recipe(s, low_c="18")
    measured(17)
    yield
    measured(18)


@mends("shop_hot")
def shop_hot(s):
    recipe(s, high_c="28")
    measured(29)
    yield
    measured(28)


@mends("vacuum_not_measured", typed=True)
def vacuum_not_measured(s):
    part(s, process="Vacuum infusion")
    yield
    happened.take_reading(s.mold, quantity="Vacuum drop", value=9, unit="mbar")


@mends("vacuum_drop")
def vacuum_drop(s):
    part(s, process="Vacuum infusion")
    happened.take_reading(s.mold, quantity="Vacuum drop", value=9, unit="mbar")
    yield
    happened.resurface(s.mold)


@mends("reading_past_limit")
def reading_past_limit(s):
    gloss = {"quantity": "gloss", "unit": "GU", "geometry": "60°"}
    set_limit(kind="mold", limit=Decimal(70), worse="down", **gloss)
    happened.take_reading(s.mold, value=68, spot="keel", **gloss)
    happened.take_reading(s.mold, value=80, spot="bow", **gloss)
    yield
    happened.take_reading(s.mold, value=74, spot="Keel", **gloss)


@mends("told_to_lead")
def told_to_lead(s):
    entry = happened.tell_lead(s.mold, note="A scratch")
    yield
    lead_notes.lead_saw(entry, by=s.lead, at=now())
