"""What held a surface, one hold after the other, and what ended each."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from datetime import tzinfo

from tooling.calc.entry import RELEASE_KINDS, Entry
from tooling.calc.fold import advance, fold
from tooling.calc.order import Placed
from tooling.calc.recipe import RecipeBook
from tooling.calc.state import State

# Stands among the holds while an entry is taken in: where it is gone, the entry lifted them.
_BEFORE = {"": 0}


@dataclass(slots=True)
class Hold:
    """An entry that held a surface, for which reasons, and the one that ended it; None while it stands."""

    entry: Entry
    reasons: tuple[str, ...]
    ended: Entry | None = None


def holds_of(
    sequence: Sequence[Placed], tool: Hashable, system: str | None, book: RecipeBook, zone: tzinfo
) -> list[Hold]:
    """Every entry that holds a surface from its turn on, also one that comes while it is held already.

    What lies before a starting state holds nothing: that says how the tool stood then.

    Parameters:
        sequence [-]: all standing entries that bear on the surface, in order (an insert's with its molds' uses).
        tool [key]: the tool whose surface it is.
        system [code]: its recipe at the start of the history; None where it has none.
        book [-]: the shop's recipes.
        zone [-]: the shop's time zone.

    Returns:
        [-] one value a hold, in order. Those that one entry lifted have it as their end.

    Source: the house's own rules of release.
    """
    starts = [i for i, (_, _, e) in enumerate(sequence) if e.kind == "starting_state" and e.tool == tool]
    begin = starts[-1] + 1 if starts else 0
    state = fold(sequence[:begin], tool, system, book, zone).state if begin else State(system=system)
    found: list[Hold] = []
    for _, _, entry in sequence[begin:]:
        if entry.kind not in RELEASE_KINDS:
            continue
        before, state.holds = state.holds, dict(_BEFORE)
        state = advance(state, [entry], tool, system, book, zone).state
        lifted, made = _BEFORE.keys() - state.holds.keys(), {k: v for k, v in state.holds.items() if k}
        if lifted:
            for hold in found:
                hold.ended = hold.ended or entry
        state.holds = made if lifted else {**made, **before}
        if made:
            found.append(Hold(entry, tuple(sorted(made))))
    return found
