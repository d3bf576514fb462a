"""What stood around a use of a tool: look-overs before and after, holds that were open or came, hard pulls near it."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from tooling.calc.entry import HARD
from tooling.calc.entry import Entry as Fact
from tooling.calc.fold import advance, fold
from tooling.calc.order import Key, Placed, by_key
from tooling.models import Tool
from tooling.selectors.history import History, system_code
from tooling.selectors.serials.folding import prefix_of

# Pulls before and after that count as near.
NEAR = 5
# Pulls after it over which holds are looked for.
_AFTER = 10


@dataclass(frozen=True, slots=True)
class Near:
    """Something before or after: the entry, the reason of a hold ("" for none), by how many pulls (below 0: before)."""

    entry: Fact
    reason: str = ""
    pulls: int = 0


@dataclass(frozen=True, slots=True)
class Around:
    """On one tool. `looked_before` passed; `looked_after` is the first after it, passed or not."""

    tool: Tool
    looked_before: Fact | None = None
    open: tuple[Near, ...] = ()
    opened: tuple[Near, ...] = ()
    looked_after: Near | None = None
    hard: tuple[Near, ...] = ()


def around(history: History, tool: Tool, begin: Key, end: Key, holds: dict[str, int]) -> Around:
    """What stood around the use of a surface that began and ended at these turns. `holds`: open when it began."""
    sequence = history.sequence(tool)
    after = [placed for placed in sequence if by_key(placed) > end]
    by_id = {entry.id: entry for _, _, entry in sequence}
    return Around(
        tool,
        _passed_before(sequence, tool.pk, begin, "inspected"),
        tuple(Near(by_id[pk], reason) for reason, pk in holds.items() if pk in by_id),
        _opened(history, tool, sequence, begin, end),
        _looked_after(after, tool.pk, "inspected"),
        (*_hard_before(sequence, end), *_hard_after(after)),
    )


def of_mask(history: History, mask: Tool, used: Key) -> Around:
    """The checks of a trim mask before and after a cut."""
    sequence = history.placed(mask.pk)
    after = [placed for placed in sequence if by_key(placed) > used]
    checked = _looked_after(after, mask.pk, "check")
    return Around(mask, looked_before=_passed_before(sequence, mask.pk, used, "check"), looked_after=checked)


def _passed_before(sequence: Sequence[Placed], tool: Hashable, key: Key, kind: str) -> Fact | None:
    looks = (one[2] for one in reversed(prefix_of(sequence, key)) if one[2].kind == kind and one[2].tool == tool)
    return next((entry for entry in looks if entry.passed), None)


def _looked_after(after: Sequence[Placed], tool: Hashable, kind: str) -> Near | None:
    pulls = 0
    for _, _, entry in after:
        if entry.kind == kind and entry.tool == tool:
            return Near(entry, "", pulls)
        pulls += _pulls(entry)
    return None


def _pulls(entry: Fact) -> int:
    return (entry.count or 1) if entry.kind in ("pull", "used") else 0


def _opened(history: History, tool: Tool, sequence: Sequence[Placed], begin: Key, end: Key) -> tuple[Near, ...]:
    """The holds that came from its beginning on: up to the first look-over after it, else some pulls further."""
    found: list[Near] = []
    state = fold(prefix_of(sequence, begin), tool.pk, system_code(tool), history.book, history.zone).state
    pulls = 0
    for placed in sequence:
        entry, is_after = placed[2], by_key(placed) > end
        if by_key(placed) < begin:
            continue
        if entry.kind == "starting_state" or pulls >= _AFTER:
            break
        pulls += _pulls(entry) if is_after else 0
        before = dict(state.holds)
        state = advance(state, [entry], tool.pk, system_code(tool), history.book, history.zone).state
        found += [Near(entry, reason, pulls) for reason in state.holds if before.get(reason) != state.holds[reason]]
        if is_after and entry.kind == "inspected":
            break
    return tuple(found)


def _hard_before(sequence: Sequence[Placed], end: Key) -> list[Near]:
    found: list[Near] = []
    away = 0
    for _, _, entry in reversed(prefix_of(sequence, end)):
        if entry.kind != "pull":
            continue
        away -= 1
        if away < -NEAR:
            break
        if entry.came_off in HARD:
            found.append(Near(entry, "", away))
        away -= (entry.count or 1) - 1
    return found[::-1]


def _hard_after(after: Sequence[Placed]) -> list[Near]:
    found: list[Near] = []
    away = 0
    for _, _, entry in after:
        if entry.kind != "pull":
            continue
        away += entry.count or 1
        if away > NEAR:
            break
        if entry.came_off in HARD:
            found.append(Near(entry, "", away))
    return found
