"""What lies ahead of a surface that wants coats: how many, and not before when."""

from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from tooling.calc.due import coats_needed, expired, film_too_old, film_wanted, strip_due, touch_up_due
from tooling.calc.recipe import Recipe
from tooling.calc.state import SERVICE, UNKNOWN, State


@dataclass(frozen=True, slots=True)
class Ahead:
    """Coats that are on and missing, and the moment before which the next one should not go on.

    `next_at`, `late_after`, `ready_at` (the end of the cure) and `dry_at` are None where there is no such limit, or it
    lies behind. `complete`: coats of a preparation or touch-up that is done, and was not used since. `late`: more time
    than is good has passed since the last coat. `film`: one has to go on when the coats are.
    """

    sealers: int
    on: int
    missing: int
    strip: bool
    last_at: datetime | None
    next_at: datetime | None
    late_after: datetime | None
    late: bool = False
    complete: int = 0
    ready_at: datetime | None = None
    film: bool = False
    film_at: datetime | None = None
    dry_at: datetime | None = None

    @property
    def wanted(self) -> int:
        """All release coats of this preparation or touch-up."""
        return self.on + self.missing

    @property
    def step(self) -> str:
        """What goes on next, in its order: sealer, coat, film; "" where nothing does, or a strip comes first."""
        if self.strip:
            return ""
        if self.sealers:
            return "sealer"
        if self.missing:
            return "coat"
        return "film" if self.film else ""

    @property
    def not_before(self) -> datetime | None:
        """The moment that the next step waits for: the gap between coats, or the cure under a film."""
        return {"coat": self.next_at, "film": self.ready_at}.get(self.step)


def coats_ahead(state: State, recipe: Recipe, zone: tzinfo, at: datetime) -> Ahead:
    """The coats that a surface wants, and when the next one may go on.

    Parameters:
        state [-]: the surface after all entries up to the moment.
        recipe [-]: the row of its recipe valid at the moment.
        zone [-]: the shop's time zone.
        at [UTC]: the moment.

    Returns:
        [-] the coats and times; a strip that is due is not counted in the times.

    Source: the house's own rules of release.
    """
    gap = timedelta(minutes=float(recipe.coat_gap_minutes))
    next_at = state.gap_from + gap if state.gap_from is not None and state.gap_from + gap > at else None
    over = expired(state, recipe, at, zone)
    in_service = state.phase in (SERVICE, UNKNOWN)
    touch_up = bool(touch_up_due(state, recipe, over)) or state.touch_up_coats > 0
    if not in_service:
        sealers = max(0, recipe.sealer_coats - state.sealers)
        on, missing = state.coats, max(0, coats_needed(state, recipe) - state.coats)
    else:
        sealers, on = 0, state.touch_up_coats
        missing = max(0, recipe.touch_up_coats - on) if touch_up else 0
    limit = _late_after(state, recipe) if on and missing else None
    return Ahead(
        sealers=sealers,
        on=on,
        missing=missing,
        strip=bool(strip_due(state, recipe, over, touch_up)),
        last_at=state.last_coat,
        next_at=next_at,
        late_after=limit if limit is not None and limit >= at else None,
        late=limit is not None and limit < at,
        complete=0 if missing else _complete(state, recipe),
        ready_at=state.ready_at if state.ready_at is not None and state.ready_at > at else None,
        film=_film(state, recipe, bool(missing), at),
        film_at=state.film_at,
        dry_at=_dry_at(state, recipe, at),
    )


def _late_after(state: State, recipe: Recipe) -> datetime | None:
    if recipe.longest_gap_hours is None or state.gap_from is None:
        return None
    return state.gap_from + timedelta(hours=float(recipe.longest_gap_hours))


def _complete(state: State, recipe: Recipe) -> int:
    """The coats that are on since the last pull, where they are all that was wanted."""
    if state.phase != SERVICE or state.last_coat is None or state.since_coat:
        return 0
    if state.last_pull is not None and state.last_pull >= state.last_coat:
        return 0
    return recipe.touch_up_coats if state.touch_ups else state.coats


def _film(state: State, recipe: Recipe, missing: bool, at: datetime) -> bool:
    """Whether a film has to go on, at once or behind the coats, which would spoil one that is on."""
    if state.phase not in (SERVICE, UNKNOWN):
        return recipe.film_every_pull or recipe.film_first_pulls > 0
    if not film_wanted(state, recipe):
        return False
    return missing or state.film_at is None or film_too_old(state.film_at, recipe, at)


def _dry_at(state: State, recipe: Recipe, at: datetime) -> datetime | None:
    if state.film_at is None:
        return None
    dry = state.film_at + timedelta(minutes=float(recipe.film_dry_minutes))
    return dry if dry > at else None
