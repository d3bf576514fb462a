"""Made-up shops: a mold with two inserts, a second mold that may borrow them, and recipes that change twice."""

from datetime import UTC, date, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from tests.tooling.calc.replay import Shop
from tooling.calc.recipe import EVERY_PREPARATION, NEW_SURFACE, Recipe

MOLDS = ("HULL-1", "DECK-1")
INSERTS = ("BOW-1", "STERN-1")
# The shop's own recipe, one that it accepts at times, and one that it never does.
OWN, ACCEPTED, STRANGE = "KEEL", "SKEG", "THWART"

# Days on which a clock changes: at two in the morning, and (the others) at midnight.
CHANGES = (
    ("America/New_York", date(2024, 3, 10)), ("America/New_York", date(2024, 11, 3)),
    ("America/Havana", date(2024, 3, 10)), ("America/Havana", date(2024, 11, 3)),
    ("Asia/Beirut", date(2024, 3, 31)), ("Asia/Beirut", date(2024, 10, 27)),
    ("America/Santiago", date(2024, 4, 7)), ("America/Santiago", date(2024, 9, 8)),
)  # fmt: skip


def made_shop(rng: Random, zone: str, start: datetime) -> Shop:
    """Three rows of the shop's own recipe, the later ones valid from somewhere in the weeks after `start`."""
    second = start + timedelta(days=rng.randint(1, 15), minutes=rng.choice((0, 7)))
    third = second + timedelta(days=rng.randint(1, 30))
    rows = (
        made_recipe(rng, OWN),
        made_recipe(rng, OWN, second),
        made_recipe(rng, OWN, third),
        made_recipe(rng, ACCEPTED),
        Recipe(STRANGE),
    )
    first = rng.choice((OWN, OWN, OWN, OWN, ACCEPTED, None))
    systems = {MOLDS[0]: first, MOLDS[1]: OWN, INSERTS[0]: OWN, INSERTS[1]: rng.choice((OWN, ACCEPTED))}
    return Shop(ZoneInfo(zone), rows, MOLDS, INSERTS, systems)


def made_recipe(rng: Random, code: str, valid_from: datetime | None = None) -> Recipe:
    """A recipe that can be kept: it cures in time, and a film is good for longer than two take to dry.

    (Else the films of two surfaces may grow old in turns, each while the other dries, for ever.)
    """
    return Recipe(
        code,
        valid_from,
        sealer_coats=rng.choice((0, 0, 1, 2)),
        coats_new=rng.randint(1, 5),
        coats_again=rng.randint(1, 3),
        break_in=rng.choice(((), (1,), (1, 2), (1, 1, 1))),
        break_in_on=rng.choice((EVERY_PREPARATION, NEW_SURFACE)),
        pulls_between=rng.randint(1, 5),
        touch_up_coats=rng.choice((1, 1, 2)),
        max_touch_ups=rng.choice((None, None, 0, 1, 1, 3)),
        max_pulls_per_preparation=rng.choice((None, None, 2, 5, 9)),
        max_idle_days=rng.choice((None, 2, 7, 30)),
        strip_after_idle_days=rng.choice((None, None, 5, 20)),
        max_coat_age_days=rng.choice((None, None, 3, 14)),
        film_every_pull=rng.choice((False, False, False, False, True)),
        film_first_pulls=rng.choice((0, 0, 0, 1, 2)),
        film_dry_minutes=rng.choice((0, 0, 20, 45.5)),
        film_good_hours=rng.choice((None, 2.5, 24)),
        coat_gap_minutes=rng.choice((0, 0, 30)),
        longest_gap_hours=rng.choice((None, None, 4)),
        cure_hours_preparation=rng.choice((0, 0, 1, 12.25)),
        cure_hours_touch_up=rng.choice((0, 0, 2.5)),
        touch_up_from=rng.choice(("light", "tight", "tight")),
        strip_from=rng.choice(("tight", "stuck", "stuck")),
        hold_from=rng.choice(("stuck", "lost", "lost")),
        accepts=rng.choice(((), (ACCEPTED,))) if code == OWN else (),
    )


def local(zone: str, day: date, hour: int, minute: int = 0) -> datetime:
    """A time of day in a shop, in UTC."""
    return datetime.combine(day, time(hour, minute), tzinfo=ZoneInfo(zone)).astimezone(UTC)
