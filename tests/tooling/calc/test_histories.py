"""The made-up histories themselves: accepted deed by deed, the same at every run, and reaching what the rules know.

Source: the words of the house's own rules of release; a property that never meets a state proves nothing about it.
"""

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from tests.tooling.calc.gate import refusal
from tests.tooling.calc.histories import made
from tooling.calc.entry import RELEASE_KINDS
from tooling.calc.status import ORDER

REASONS = {
    "came_off", "tool_damaged", "inspection_failed", "hold", "reinstated", "strip_came_off", "strip_foreign_coat",
    "strip_release_system", "strip_sealer", "idle_long", "build_up", "touch_ups", "pulls_since_preparation",
    "count_unknown", "idle", "coat_age", "spot_bare", "release_check", "wax_wanted", "abandoned", "count", "unfinished",
    "no_release_system",
}  # fmt: skip
FLAGS = {
    "after_retirement", "already_laid_up", "already_retired", "before_starting_state", "build_up_on_bare",
    "coat_before_sealer", "coat_beyond_limit", "coat_too_late", "coat_too_soon", "film_not_in_recipe",
    "film_on_unready", "foreign_coat", "inspected_by_same_hand", "not_on_hold", "not_retired", "nothing_laid_up",
    "pulled_early", "release_system_changed_over_coat", "sealer_over_coat", "touch_up_where_strip_due",
    "unfinished_touch_up_lost", "used_before_cure", "used_count_unknown", "used_on_bare", "used_on_hold",
    "used_on_wet_film", "used_overdue", "used_while_preparing", "used_without_film", "worked_with_part_in",
}  # fmt: skip


@given(st.integers(0, 2**32), st.booleans())
def test_nothing_made_up_is_refused_and_a_seed_tells_all(seed, distinct):
    history = made(Random(seed), 20, distinct)
    assert repr(made(Random(seed), 20, distinct)) == repr(history)
    assert not distinct or len(history.moments) == len(history.deeds)
    for place, entry in enumerate(history.entries):
        assert refusal(history.shop, history.entries[:place], entry, entry.recorded_at) == ""
    recorded = [deed["recorded_at"] for deed in history.deeds]
    assert recorded == sorted(recorded)


def test_they_reach_every_kind_status_reason_and_flag():
    kinds, statuses, reasons, flags, late = set(), set(), set(), set(), 0
    for seed in range(200):
        history = made(Random(seed), 40)
        kinds |= {deed["kind"] for deed in history.deeds}
        late += sum(deed["at"] < deed["recorded_at"] for deed in history.deeds)
        flags |= {flag for _, flag, _ in history.board().flags}
        for at in history.moments[::8]:
            board = history.board(at)
            for tool in history.shop.tools:
                one = board.status(tool, at)
                statuses.add(one.status)
                reasons.update(one.why)
    assert kinds == RELEASE_KINDS | {"installed", "removed", "note", "void"}
    assert statuses == set(ORDER)
    assert reasons == REASONS
    assert flags == FLAGS
    assert late > 200
