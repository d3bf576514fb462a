"""How warm the shop was, day by day."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from itertools import groupby
from math import ceil

from tooling.models import Person, Temperature
from tooling.selectors.shop_temperature import midnight
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.temperature import may_rub_out
from tooling.words.when import clock, day

# What a page of them shows.
LATELY, MOST = timedelta(days=14), 200


@dataclass(frozen=True, slots=True)
class Measured:
    """One measurement, its clock, and the minutes for which the asker may rub it out; 0: not any more."""

    one: Temperature
    clock: str
    minutes: int


@dataclass(frozen=True, slots=True)
class Day:
    """The measurements of a day, the latest first."""

    said: str
    measured: list[Measured]


def lately(at: datetime, zone: tzinfo, person: Person) -> list[Day]:
    """Those of the last two weeks by days, the latest first; what was struck out as well."""
    since = midnight(at - LATELY, zone)
    rows = Temperature.objects.filter(at__gte=since).newest_first().select_related("by", "recorded_by", "struck_by")
    today = at.astimezone(zone).date()
    by_day = groupby(rows[:MOST], key=lambda one: one.at.astimezone(zone).date())
    return [_day(of, today, [_measured(one, person, at, zone) for one in found]) for of, found in by_day]


def minutes_to_rub_out(one: Temperature | None, person: Person, at: datetime) -> int:
    """For how many more minutes the person may rub it out; 0: not any more."""
    if one is None or one.struck_at is not None or not may_rub_out(one, person, at):
        return 0
    return max(1, ceil((one.recorded_at + RUB_OUT_WITHIN - at).total_seconds() / 60))


def _day(of: date, today: date, measured: list[Measured]) -> Day:
    return Day(day(of, today), measured)


def _measured(one: Temperature, person: Person, at: datetime, zone: tzinfo) -> Measured:
    return Measured(one, clock(one.at, zone), minutes_to_rub_out(one, person, at))
