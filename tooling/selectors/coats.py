"""The coats of one tool as they go on: what is on, what was wiped, which clock runs, what comes next."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from tooling.calc.ahead import Ahead
from tooling.calc.state import decode
from tooling.models import Entry, RecipeVersion, Wipe
from tooling.selectors.floor import Floor, ahead, standing_entries

# While coats are going on, the clock of the last one is of use for a working day.
CLOCK_RUNS = timedelta(hours=12)
# When all are on, it only asks for wiping, and nobody wipes later than this.
WIPED_WITHIN = timedelta(hours=2)
# The time of a film is up: so long it is still said that somebody has to look whether it is dry.
LOOKED_AT_WITHIN = timedelta(hours=2)


@dataclass(frozen=True)
class On:
    """Something that is on, and for a coat when it was wiped."""

    entry: Entry
    wipe: Wipe | None = None


@dataclass(frozen=True)
class Coating:
    """A tool whose coats go on. `clock` is what runs: "coat", "film", or "" where nothing does."""

    on: Floor
    plan: Ahead | None
    done: tuple[On, ...]
    clock: str

    @property
    def last(self) -> On | None:
        """The coat that went on last."""
        return next((one for one in reversed(self.done) if one.entry.kind == "coat"), None)

    @property
    def wiped(self) -> Wipe | None:
        """That the last coat was wiped."""
        return self.last.wipe if self.last is not None else None

    @property
    def number(self) -> int:
        """The number of the coat that went on last; 0 where nobody can say."""
        return (self.plan.on or self.plan.complete) if self.plan is not None else 0

    @property
    def late(self) -> bool:
        """Whether more time than is good has passed since the last coat."""
        return self.plan is not None and self.plan.late


def coating(on: Floor) -> Coating:
    """The coats of a tool as they stand now."""
    plan = ahead(on)
    done = _done(on, plan) if plan is not None else ()
    return Coating(on, plan, done, _clock(on, plan) if plan is not None else "")


def _done(on: Floor, plan: Ahead) -> tuple[On, ...]:
    """The sealers, coats and film of this preparation or touch-up, oldest first; the last coat in any case."""
    entries = standing_entries(on.tool, "coat", "sealer", "film")
    coats = _counted((one for one in entries if one.kind == "coat" and one.area == "whole"), plan.on or plan.complete)
    coats = coats or [one for one in entries if one.kind == "coat" and one.at == plan.last_at][:1]
    sealers = _counted((one for one in entries if one.kind == "sealer" and one.area == "whole"), _sealers(on, plan))
    films = [one for one in entries if one.kind == "film" and one.at == plan.film_at][:1]
    wipes = wipes_of(coats)
    found = [*coats, *sealers, *films]
    found.sort(key=lambda one: (one.at, one.pk))
    return tuple(On(one, wipes.get(one.pk)) for one in found)


def _counted(entries: Iterable[Entry], wanted: int) -> list[Entry]:
    counted, found = 0, []
    for entry in entries:
        if counted >= wanted:
            break
        counted += entry.count or 1
        found.append(entry)
    return found


def _sealers(on: Floor, plan: Ahead) -> int:
    """The coats of sealer under the coats that are listed."""
    return decode(on.summary.state).sealers if plan.on or plan.sealers or plan.complete else 0


def wipes_of(coats: Iterable[Entry]) -> dict[int, Wipe]:
    """By coat that it was wiped."""
    found = Wipe.objects.standing().filter(coat__in=list(coats)).select_related("by")
    return {wipe.coat_id: wipe for wipe in found}


def _clock(on: Floor, plan: Ahead) -> str:
    if on.summary.laid_up_at is not None:
        return ""
    if plan.film_at is not None and (plan.dry_at is not None or on.at - plan.film_at < LOOKED_AT_WITHIN):
        return "film"
    if plan.last_at is None:
        return ""
    return "coat" if on.at - plan.last_at < _runs(on, plan) else ""


def _runs(on: Floor, plan: Ahead) -> timedelta:
    """How long the clock of the last coat is of use; nothing is wiped where the recipe says no wait for it."""
    if plan.on:
        return CLOCK_RUNS
    wait = timedelta(minutes=float(on.recipe.wipe_minutes)) if on.recipe is not None else timedelta()
    return max(wait, WIPED_WITHIN) if wait and plan.complete else wait


def what_goes_on(recipe: RecipeVersion | None) -> list[str]:
    """What goes on by a recipe, in its order."""
    if recipe is None:
        return ["coat"]
    film = recipe.film_every_pull or recipe.film_first_pulls
    return [*(["sealer"] if recipe.sealer_coats else []), "coat", *(["film"] if film else [])]


def is_waiting(one: Coating) -> bool:
    """Whether somebody stays at it: a step is missing, or a clock runs that nobody has quieted."""
    if one.plan is None:
        return False
    return bool(one.plan.step) or bool(one.clock and one.wiped is None)


def clock_since(one: Coating) -> datetime | None:
    """The moment that the clock counts from."""
    if one.plan is None or not one.clock:
        return None
    return one.plan.film_at if one.clock == "film" else one.plan.last_at
