"""Which inserts a mold's deeds reach: those installed at that instant, and at the lay-ups they belong to."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from tooling.calc.entry import USE_KINDS, Entry
from tooling.calc.order import Placed, by_key


@dataclass(frozen=True, slots=True)
class Stay:
    """An insert's time in a mold, half-open: from `since` up to, not including, `until` (None: still in)."""

    mold: Hashable
    since: datetime
    until: datetime | None

    def holds(self, instant: datetime) -> bool:
        """True where the insert was in at `instant`."""
        return self.since <= instant and (self.until is None or instant < self.until)


@dataclass(frozen=True, slots=True)
class Use:
    """A lay-up, its end, a pull or an abandoned part, with the instants whose installed inserts it reaches."""

    placed: Placed
    instants: tuple[datetime, ...]


class TwoMolds(ValueError):
    """An insert would be in two molds at once; `entry` is the installation that cannot be."""

    def __init__(self, entry: Entry, other: Hashable) -> None:
        """Keeps the entry that cannot be, and the mold that the insert is in already."""
        super().__init__("the insert would be in two molds at once")
        self.entry = entry
        self.other = other


def stays(placed: Iterable[Placed]) -> list[Stay]:
    """An insert's times in molds.

    Parameters:
        placed [-]: the insert's own standing entries, in order.

    Returns:
        [-] its stays, in order; the last may be open.

    Raises:
        TwoMolds: where it is installed while it is in another mold.
    """
    result: list[Stay] = []
    mold: Hashable = None
    since: datetime | None = None
    for at, _, entry in placed:
        if entry.kind == "installed":
            if mold is not None and mold != entry.mold:
                raise TwoMolds(entry, mold)
            if mold is None:
                mold, since = entry.mold, at
        elif entry.kind == "removed" and mold is not None and since is not None:
            result.append(Stay(mold, since, at))
            mold = None
    if mold is not None and since is not None:
        result.append(Stay(mold, since, None))
    return result


def uses(placed: Iterable[Placed]) -> list[Use]:
    """A mold's uses. A pull, an end of lay-up or an abandoned part belongs to the open lay-ups before it.

    Parameters:
        placed [-]: the mold's own standing entries, in order.

    Returns:
        [-] its uses, in order.
    """
    result: list[Use] = []
    open_lay_ups: list[datetime] = []
    for one in placed:
        at, _, entry = one
        if entry.kind not in USE_KINDS:
            continue
        if entry.kind == "lay_up":
            result.append(Use(one, (at,)))
            open_lay_ups.append(at)
            continue
        result.append(Use(one, (at, *open_lay_ups)))
        if entry.kind != "lay_up_done":
            open_lay_ups = []
    return result


def reached(of_insert: Sequence[Stay], mold: Hashable, instants: Iterable[datetime]) -> bool:
    """True where the insert was in `mold` at one of the instants.

    Parameters:
        of_insert [-]: the insert's stays.
        mold [key]: the mold that was used.
        instants [UTC]: the use itself and the lay-ups it belongs to.

    Returns:
        [-] True or False.
    """
    return any(stay.mold == mold and any(stay.holds(instant) for instant in instants) for stay in of_insert)


def with_uses(
    own: Sequence[Placed], of_insert: Sequence[Stay], molds: Mapping[Hashable, Sequence[Use]]
) -> list[Placed]:
    """An insert's whole sequence: its own entries and the uses of its molds that reach it, in one order.

    Parameters:
        own [-]: the insert's own standing entries, in order.
        of_insert [-]: its stays.
        molds [-]: the uses of every mold it was ever in.

    Returns:
        [-] all entries that bear on the insert's surface, in order.
    """
    merged = list(own)
    for mold in {stay.mold for stay in of_insert}:
        merged += [use.placed for use in molds.get(mold, ()) if reached(of_insert, mold, use.instants)]
    merged.sort(key=by_key)
    return merged
