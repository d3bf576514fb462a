"""A mold and its inserts folded together from plain entries: the shortest way through `calc`."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from tooling.calc.entry import Entry
from tooling.calc.fold import Folded, fold
from tooling.calc.membership import reached, stays, uses, with_uses
from tooling.calc.order import effective
from tooling.calc.recipe import RecipeBook
from tooling.calc.status import Status, combine, status_of


@dataclass(frozen=True)
class Family:
    """Each surface's fold and own status, and the mold's status with what is installed in it."""

    folded: dict[Hashable, Folded]
    own: dict[Hashable, Status]
    whole: Status


def fold_family(
    logs: Mapping[Hashable, Sequence[Entry]], mold: Hashable, systems: Mapping[Hashable, str | None],
    book: RecipeBook, zone: tzinfo, at: datetime, known_at: datetime | None = None, part: str = "",
) -> Family:  # fmt: skip
    """All surfaces of a mold and its inserts as they stand at `at`."""
    placed = {tool: effective(log, as_of=at, known_at=known_at) for tool, log in logs.items()}
    of_mold = {mold: uses(placed[mold])}
    folded, own, installed = {}, {}, []
    for tool, sequence in placed.items():
        if tool != mold:
            times = stays(sequence)
            sequence = with_uses(sequence, times, of_mold)
            if reached(times, mold, [at]):
                installed.append(tool)
        folded[tool] = fold(sequence, tool, systems[tool], book, zone)
        own[tool] = status_of(folded[tool].state, tool, book, zone, at, part)
    return Family(folded, own, combine(own[mold], [own[tool] for tool in sorted(installed)]))
