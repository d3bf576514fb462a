"""Mold inserts that want work before they go into a mold: in it, solvent and coats would reach the mold as well."""

from tooling.calc.status import Status, status_of
from tooling.models import Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.surfaces import MENDS
from tooling.words.deeds import INSTALLED, Deed
from tooling.words.usable import last_put_in, put_in

# What is done on the bench. A cure, a film or a hold is said at the insert itself.
ON_THE_BENCH = frozenset({"needs_strip", "not_prepared", "preparing", "needs_touch_up"})


def wants_bench(status: Status | None) -> bool:
    """Whether a surface wants a strip or coats, by a recipe that is known."""
    return status is not None and status.status in ON_THE_BENCH and "no_release_system" not in status.why


def mend_of_missing(asked: Asked, insert: Tool, mold: str) -> tuple[str, Deed]:
    """What mends that an insert is not in its mold, and by which deed of the insert: its own work before all."""
    state = asked.read.states[insert.pk]
    status = status_of(state, insert.pk, asked.read.book, asked.shop.zone, asked.at, asked.part)
    if not wants_bench(status):
        return put_in(mold), INSTALLED
    return last_put_in(mold, strip=status.status == "needs_strip"), MENDS[status.status]
