"""What lies ahead of a surface that wants coats: how many, and not before when."""

from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from tooling.calc.due import coats_needed, expired, strip_due, touch_up_due
from tooling.calc.recipe import Recipe
from tooling.calc.state import SERVICE, UNKNOWN, State


@dataclass(frozen=True, slots=True)
class Ahead:
    """Coats that are on and missing, and the moment before which the next one should not go on.

    `next_at` and `late_after` are None where there is no such limit, or it lies behind.
    """

    sealers: int
    on: int
    missing: int
    strip: bool
    last_at: datetime | None
    next_at: datetime | None
    late_after: datetime | None

    @property
    def wanted(self) -> int:
        """All release coats of this preparation or touch-up."""
        return self.on + self.missing


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
    return Ahead(
        sealers=sealers,
        on=on,
        missing=missing,
        strip=bool(strip_due(state, recipe, over, touch_up)),
        last_at=state.last_coat,
        next_at=next_at,
        late_after=_late_after(state, recipe, at) if on and missing else None,
    )


def _late_after(state: State, recipe: Recipe, at: datetime) -> datetime | None:
    if recipe.longest_gap_hours is None or state.gap_from is None:
        return None
    limit = state.gap_from + timedelta(hours=float(recipe.longest_gap_hours))
    return limit if limit > at else None
