"""The one thing that the board asks for at a moment, as a deed. Doing it again and again must end in a ready mold."""

from datetime import datetime

from tests.tooling.calc.replay import Deed
from tooling.calc.status import Status

INSPECTOR = "the inspector"
READY = ("last_pull", "ready")
WAITING = ("curing", "film_drying")


def deed(tool: str, kind: str, at: datetime, by: str | None = None, **fields: object) -> Deed:
    """A deed that is recorded when it happens."""
    plain = {"tool": tool, "kind": kind, "at": at, "recorded_at": at, "by": by, "fields": fields}
    return {**plain, "replaces": None, "voids": None}


def asked_for(status: Status, at: datetime, system: str) -> tuple[datetime, Deed | None]:
    """What to do next and when; no deed where there is nothing to do but wait, or nothing at all."""
    surface = status.surface
    if status.status in WAITING:
        assert status.ready_at is not None
        return status.ready_at, None
    if status.status == "part_in_mold":
        when = at if status.ready_at is None else max(at, status.ready_at)
        return when, deed(status.tool, "pull", when, count=1, came_off="free")
    if status.status == "retired":
        return at, deed(surface, "reinstated", at)
    if status.status == "held":
        return at, deed(surface, "inspected", at, INSPECTOR, passed=True)
    if status.status == "needs_strip":
        return at, deed(surface, "strip", at)
    if status.status == "needs_film":
        return at, deed(surface, "film", at)
    if status.status in READY:
        return at, None
    return at, _coats(status, at, system)


def _coats(status: Status, at: datetime, system: str) -> Deed:
    if status.why == ("no_release_system",):
        return deed(status.surface, "release_system", at, release_system=system)
    assert status.need is not None
    if status.need.sealer:
        return deed(status.surface, "sealer", at, count=status.need.sealer)
    # A later recipe row may ask for fewer coats than are on: then one more makes it good.
    return deed(status.surface, "coat", at, count=max(1, status.need.coat))
