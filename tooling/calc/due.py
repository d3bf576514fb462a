"""What is due on a surface at a moment: allowance, pulls left, time limits, touch-up, strip, film."""

from datetime import date, datetime, timedelta, tzinfo
from typing import NamedTuple

from tooling.calc.entry import part_key
from tooling.calc.recipe import Recipe
from tooling.calc.state import BARE, SERVICE, UNKNOWN, State

# The order in which forced reasons are listed; those that hold at the moment follow them.
FORCED_REASONS = ("came_off", "idle", "coat_age", "spot_bare", "release_check", "wax_wanted", "abandoned")
FORCED_STRIP_REASONS = (
    "strip_came_off", "strip_foreign_coat", "strip_release_system", "strip_sealer", "idle_long",
)  # fmt: skip


class Expired(NamedTuple):
    """Which time limits have run out."""

    idle: bool
    idle_long: bool
    coat_age: bool


NOTHING_EXPIRED = Expired(False, False, False)


def allowance(state: State, recipe: Recipe, part: str = "") -> int:
    """Pulls that the present coat allows.

    The break-in's number while there is one, else the tool's own, else the recipe's; never more than the cap of a
    foreign coat that was accepted, nor than the asked part's own number on this tool.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.
        part [text]: the part's number; "" asks for no part.

    Returns:
        [pulls] a whole number.
    """
    if state.index < len(recipe.break_in):
        allowed = recipe.break_in[state.index]
    else:
        allowed = state.own_n or recipe.pulls_between
    if state.cap is not None:
        allowed = min(allowed, state.cap)
    if part and state.part_n:
        allowed = min(allowed, state.part_n.get(part_key(part), allowed))
    return allowed


def pulls_left(state: State, recipe: Recipe, part: str = "") -> int:
    """Pulls still allowed before the next coat or strip, never below 0.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.
        part [text]: the part's number; "" asks for no part.

    Returns:
        [pulls] a whole number.
    """
    left = allowance(state, recipe, part) - state.since_coat
    if recipe.max_pulls_per_preparation is not None:
        left = min(left, recipe.max_pulls_per_preparation - state.since_preparation)
    return max(0, left)


def idle_since(state: State) -> datetime | None:
    """The instant from which idle days count: the latest of last coat, last pull and last passed release check.

    Parameters:
        state [-]: the surface.

    Returns:
        [UTC] the instant, or None where nothing happened yet.
    """
    return max((t for t in (state.last_coat, state.last_pull, state.last_check) if t is not None), default=None)


def local_date(instant: datetime, zone: tzinfo) -> date:
    """The calendar day of an instant in the shop.

    Parameters:
        instant [UTC]: an aware instant.
        zone [-]: the shop's time zone.

    Returns:
        [date] the local day.
    """
    return instant.astimezone(zone).date()


def _over(since: datetime | None, days: int | None, at: datetime, zone: tzinfo) -> bool:
    if days is None or since is None:
        return False
    if at - since <= timedelta(days=days - 1):  # surely within the limit: spares the look at the calendar
        return False
    return (local_date(at, zone) - local_date(since, zone)).days > days


def expired(state: State, recipe: Recipe, at: datetime, zone: tzinfo) -> Expired:
    """Which time limits have run out at a moment; none outside service. The limit day itself is still good.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.
        at [UTC]: the moment.
        zone [-]: the shop's time zone.

    Returns:
        [-] three yes or no.
    """
    if state.phase != SERVICE:
        return NOTHING_EXPIRED
    idle = idle_since(state)
    return Expired(
        _over(idle, recipe.max_idle_days, at, zone),
        _over(idle, recipe.strip_after_idle_days, at, zone),
        _over(state.last_coat, recipe.max_coat_age_days, at, zone),
    )


def expiry_dates(state: State, recipe: Recipe, zone: tzinfo) -> list[date]:
    """The first day on which each time limit is over; empty outside service or without limits.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.
        zone [-]: the shop's time zone.

    Returns:
        [date] the days, in no order.
    """
    if state.phase != SERVICE:
        return []
    idle = idle_since(state)
    limits = (
        (idle, recipe.max_idle_days),
        (idle, recipe.strip_after_idle_days),
        (state.last_coat, recipe.max_coat_age_days),
    )
    return [
        local_date(since, zone) + timedelta(days=days + 1)
        for since, days in limits
        if since is not None and days is not None
    ]


def touch_up_due(state: State, recipe: Recipe, over: Expired, part: str = "") -> list[str]:
    """Why a touch-up is due; empty where it is not.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.
        over [-]: the time limits that have run out.
        part [text]: the part's number; "" asks for no part.

    Returns:
        [-] reasons: the forced ones first.
    """
    if state.phase == UNKNOWN:
        return ["count_unknown"]
    if state.phase != SERVICE:
        return []
    count = state.since_coat >= allowance(state, recipe, part)
    if not (state.forced or count or over.idle or over.coat_age):
        return []
    reasons = [name for name in FORCED_REASONS if name in state.forced]
    now = (("count", count), ("idle", over.idle), ("coat_age", over.coat_age))
    return reasons + [name for name, holds in now if holds and name not in reasons]


def strip_due(state: State, recipe: Recipe, over: Expired, touch_up: bool) -> list[str]:
    """Why the surface must be stripped; empty where it need not. Never on a bare surface.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.
        over [-]: the time limits that have run out.
        touch_up [-]: a touch-up is due (the strip takes the place of one touch-up too many).

    Returns:
        [-] reasons: the forced ones first.
    """
    if state.phase == BARE:
        return []
    reasons = [name for name in FORCED_STRIP_REASONS if name in state.forced_strip]
    if state.build_up:
        reasons.append("build_up")
    most, limit = recipe.max_touch_ups, recipe.max_pulls_per_preparation
    if most is not None and state.phase in (SERVICE, UNKNOWN) and state.touch_ups >= most + (not touch_up):
        reasons.append("touch_ups")
    if state.phase == SERVICE and limit is not None and state.since_preparation >= limit:
        reasons.append("pulls_since_preparation")
    if over.idle_long and "idle_long" not in reasons:
        reasons.append("idle_long")
    return reasons


def film_wanted(state: State, recipe: Recipe) -> bool:
    """True where the next pull wants a film (PVA) under it.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.

    Returns:
        [-] True or False; only in service.
    """
    if state.phase != SERVICE:
        return False
    first = not state.film_first_past and state.since_preparation < recipe.film_first_pulls
    return recipe.film_every_pull or first


def film_too_old(film_at: datetime, recipe: Recipe, at: datetime) -> bool:
    """True where a film is older than it is good for; exactly the limit is good.

    Parameters:
        film_at [UTC]: when it went on.
        recipe [-]: the row valid at the asked time.
        at [UTC]: the moment.

    Returns:
        [-] True or False.
    """
    return recipe.film_good_hours is not None and at - film_at > timedelta(hours=recipe.film_good_hours)


def film_wet(film_at: datetime, recipe: Recipe, at: datetime) -> bool:
    """True where a film is still wet; exactly dry is good.

    Parameters:
        film_at [UTC]: when it went on.
        recipe [-]: the row valid at the asked time.
        at [UTC]: the moment.

    Returns:
        [-] True or False.
    """
    return at - film_at < timedelta(minutes=recipe.film_dry_minutes)


def coats_needed(state: State, recipe: Recipe) -> int:
    """Release coats of the preparation that this surface needs.

    Parameters:
        state [-]: the surface.
        recipe [-]: the row valid at the asked time.

    Returns:
        [coats] coats_new on a new surface, else coats_again.
    """
    return recipe.coats_new if state.new else recipe.coats_again
