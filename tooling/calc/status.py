"""What the board says of a surface, and of a mold with its installed inserts, at a moment."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta, tzinfo
from typing import NamedTuple

from tooling.calc.due import (
    Expired,
    allowance,
    coats_needed,
    expired,
    expiry_dates,
    film_too_old,
    film_wanted,
    film_wet,
    pulls_left,
    strip_due,
    touch_up_due,
)
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import BARE, PREPARING, SERVICE, PartIn, State

# From worst to best: the first that holds is the status, and the worst of a mold and its inserts is theirs.
ORDER = (
    "retired", "held", "part_in_mold", "needs_strip", "not_prepared", "preparing", "needs_touch_up",
    "curing", "needs_film", "film_drying", "last_pull", "ready",
)  # fmt: skip
RANK = {status: rank for rank, status in enumerate(ORDER)}
# A later row of the recipe may want fewer coats than are on: the next coat still is what completes them.
_ONE_MORE = 1
WITH_PULLS_LEFT = frozenset({"curing", "needs_film", "film_drying", "last_pull", "ready"})
WITH_READY_AT = frozenset({"curing", "film_drying", "part_in_mold"})
HOLD_REASONS = ("came_off", "tool_damaged", "inspection_failed", "hold", "reinstated")


class Need(NamedTuple):
    """Coats that are missing."""

    sealer: int
    coat: int


@dataclass(frozen=True, slots=True)
class Status:
    """One answer. Counts are whole pulls and coats; `surface` is the tool that the status comes from."""

    tool: Hashable
    surface: Hashable
    status: str
    why: tuple[str, ...]
    need: Need | None
    pulls_left: int
    wax_after_pull: int | None
    pulls_past: int
    since_coat: int
    touch_ups: int
    touch_ups_known: bool
    total_pulls: int
    total_coats: int
    coats_in_preparation: int
    break_in_index: int
    expires_on: date | None
    ready_at: datetime | None
    in_mold: PartIn | None

    @property
    def rank(self) -> int:
        """The place of the status in ORDER; lower is worse."""
        return RANK[self.status]


class _Due(NamedTuple):
    over: Expired
    touch_up: list[str]
    strip: list[str]
    left: int


def status_of(state: State, tool: Hashable, book: RecipeBook, zone: tzinfo, at: datetime, part: str = "") -> Status:
    """The status of one surface by itself.

    Parameters:
        state [-]: the surface after all entries up to the moment.
        tool [key]: the tool whose surface it is.
        book [-]: the shop's recipes.
        zone [-]: the shop's time zone.
        at [UTC]: the moment, not before the last entry of the state.
        part [text]: the part it is asked for; "" asks for none.

    Returns:
        [-] the status with its reasons and numbers.

    Source: the house's own rules of release.
    """
    recipe = book.at(state.system, at)
    due = _due(state, recipe, at, zone, part)
    status, why = _first_that_holds(state, recipe, at, due)
    return Status(
        tool=tool,
        surface=tool,
        status=status,
        why=why,
        need=_need(state, recipe, status),
        pulls_left=due.left if status in WITH_PULLS_LEFT else 0,
        wax_after_pull=_wax_after(state, recipe, due, part),
        pulls_past=_past(state, recipe, part),
        since_coat=state.since_coat,
        touch_ups=state.touch_ups,
        touch_ups_known=state.touch_ups_known,
        total_pulls=state.total_pulls,
        total_coats=state.total_coats,
        coats_in_preparation=state.coats,
        break_in_index=state.index,
        expires_on=min(expiry_dates(state, recipe, zone), default=None) if recipe else None,
        ready_at=_ready_at(state, recipe, status),
        in_mold=state.part,
    )


def combine(mold: Status, inserts: Sequence[Status]) -> Status:
    """The status of a mold with its installed inserts: the worst of all of them.

    Parameters:
        mold [-]: the mold by itself.
        inserts [-]: its installed inserts, each by itself, in code order.

    Returns:
        [-] the mold's status; every field that is not of the whole is the mold's own.
    """
    if not inserts:
        return mold
    every = (mold, *inserts)
    worst = min(every, key=lambda one: one.rank)
    status = worst.status
    why = tuple(dict.fromkeys(reason for one in every if one.status == status for reason in one.why))
    left = min(one.pulls_left for one in every) if status in WITH_PULLS_LEFT else 0
    return replace(
        mold,
        status=status,
        surface=worst.surface,
        why=why,
        need=worst.need,
        pulls_left=left,
        wax_after_pull=mold.total_pulls + left if status in WITH_PULLS_LEFT else mold.wax_after_pull,
        ready_at=_latest([one.ready_at for one in every]) if status in WITH_READY_AT else None,
        expires_on=min((one.expires_on for one in every if one.expires_on is not None), default=None),
    )


def _latest(instants: Sequence[datetime | None]) -> datetime | None:
    return max((one for one in instants if one is not None), default=None)


def _due(state: State, recipe: Recipe | None, at: datetime, zone: tzinfo, part: str) -> _Due:
    if recipe is None:
        return _Due(Expired(False, False, False), [], [], 0)
    over = expired(state, recipe, at, zone)
    touch_up = touch_up_due(state, recipe, over, part)
    left = pulls_left(state, recipe, part) if state.phase == SERVICE else 0
    return _Due(over, touch_up, strip_due(state, recipe, over, bool(touch_up)), left)


def _first_that_holds(state: State, recipe: Recipe | None, at: datetime, due: _Due) -> tuple[str, tuple[str, ...]]:
    if state.retired:
        return "retired", ()
    if state.holds:
        return "held", tuple(reason for reason in HOLD_REASONS if reason in state.holds)
    if state.part is not None:
        return "part_in_mold", ()
    if recipe is None:
        return "not_prepared", ("no_release_system",)
    if due.strip:
        return "needs_strip", tuple(due.strip)
    if state.phase == BARE:
        return "not_prepared", ()
    if state.phase == PREPARING:
        return "preparing", ()
    if due.touch_up or state.touch_up_coats:
        return "needs_touch_up", (*due.touch_up, *(["unfinished"] if state.touch_up_coats else []))
    return _in_order(state, recipe, at, due.left), ()


def _in_order(state: State, recipe: Recipe, at: datetime, left: int) -> str:
    if state.ready_at is not None and at < state.ready_at:
        return "curing"
    if film_wanted(state, recipe):
        if state.film_at is None or film_too_old(state.film_at, recipe, at):
            return "needs_film"
        if film_wet(state.film_at, recipe, at):
            return "film_drying"
    return "last_pull" if left == 1 else "ready"


def _need(state: State, recipe: Recipe | None, status: str) -> Need | None:
    if recipe is None:
        return None
    coats = coats_needed(state, recipe)
    if status == "needs_strip":
        return Need(recipe.sealer_coats, coats)
    if status in ("not_prepared", "preparing"):
        sealers = max(0, recipe.sealer_coats - state.sealers)
        return Need(sealers, max(0 if sealers else _ONE_MORE, coats - state.coats))
    if status == "needs_touch_up":
        return Need(0, max(_ONE_MORE, recipe.touch_up_coats - state.touch_up_coats))
    return None


def _wax_after(state: State, recipe: Recipe | None, due: _Due, part: str) -> int | None:
    if recipe is None or state.phase != SERVICE:
        return None
    if not due.touch_up and not due.strip:
        return state.total_pulls + due.left
    return min(state.total_pulls, state.total_pulls - state.since_coat + allowance(state, recipe, part))


def _past(state: State, recipe: Recipe | None, part: str) -> int:
    if recipe is None or state.phase != SERVICE:
        return 0
    return max(0, state.since_coat - allowance(state, recipe, part))


def _ready_at(state: State, recipe: Recipe | None, status: str) -> datetime | None:
    if status == "curing":
        return state.ready_at
    if status == "part_in_mold":
        return state.part.earliest_pull if state.part else None
    if status == "film_drying" and recipe is not None and state.film_at is not None:
        return state.film_at + timedelta(minutes=recipe.film_dry_minutes)
    return None
