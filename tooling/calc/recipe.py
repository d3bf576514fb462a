"""The release recipe: the shop's own numbers for what keeps a molding from sticking."""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

EVERY_PREPARATION = "every_preparation"
NEW_SURFACE = "new_surface"

# The first row of a code holds from the beginning of time.
_BEGINNING = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Recipe:
    """One row of a release recipe, valid from an instant until the next row of the same code.

    Hours and minutes are numbers of hours and minutes, days are local calendar days, pulls and coats are whole
    numbers. None means "no limit". Every default is the house's own starting point (common practice, no source).
    """

    code: str
    valid_from: datetime | None = None
    family: str = "other"
    sealer_coats: int = 0
    coats_new: int = 5
    coats_again: int = 3
    break_in: tuple[int, ...] = (1, 1, 1)
    break_in_on: str = EVERY_PREPARATION
    pulls_between: int = 4
    touch_up_coats: int = 1
    max_touch_ups: int | None = None
    max_pulls_per_preparation: int | None = None
    max_idle_days: int | None = 30
    strip_after_idle_days: int | None = None
    max_coat_age_days: int | None = None
    film_every_pull: bool = False
    film_first_pulls: int = 0
    film_dry_minutes: float = 0
    film_good_hours: float | None = None
    coat_gap_minutes: float = 0
    longest_gap_hours: float | None = None
    cure_hours_preparation: float = 0
    cure_hours_touch_up: float = 0
    touch_up_from: str = "tight"
    strip_from: str = "stuck"
    hold_from: str = "lost"
    accepts: tuple[str, ...] = ()


class RecipeBook:
    """All rows of all recipes of a shop; answers which row of a code is valid at an instant."""

    __slots__ = ("_rows", "_starts")

    def __init__(self, recipes: Iterable[Recipe]) -> None:
        """Sorts the rows of each code by the instant from which they are valid."""
        self._rows: dict[str, list[Recipe]] = {}
        for recipe in recipes:
            self._rows.setdefault(recipe.code, []).append(recipe)
        for rows in self._rows.values():
            rows.sort(key=_start)
        self._starts = {code: [_start(row) for row in rows] for code, rows in self._rows.items()}

    def at(self, code: str | None, instant: datetime) -> Recipe | None:
        """The row of `code` valid at `instant`; None without a code, or where no row holds yet."""
        if code is None or code not in self._rows:
            return None
        rows = self._rows[code]
        if len(rows) == 1:
            return rows[0] if self._starts[code][0] <= instant else None
        place = bisect_right(self._starts[code], instant)
        return rows[place - 1] if place else None

    def changes(self, code: str | None) -> list[datetime]:
        """The instants at which a further row of `code` becomes valid, earliest first."""
        if code is None:
            return []
        return [start for start in self._starts.get(code, []) if start != _BEGINNING]

    def codes(self) -> list[str]:
        """The codes of all recipes, in order."""
        return sorted(self._rows)


def _start(recipe: Recipe) -> datetime:
    return recipe.valid_from or _BEGINNING
