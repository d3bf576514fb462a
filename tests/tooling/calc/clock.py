"""Local times of a shop as instants and back, for tests that are worked by hand on a wall clock."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from tooling.calc.timeline import ShopHours

NEW_YORK = "America/New_York"


def at(text: str, zone: str = NEW_YORK) -> datetime:
    """2025-06-02 08:00 on the clock of that zone."""
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone))


def clock(instants, zone: str = NEW_YORK) -> list[str]:
    """Tue 01:40 on the clock of that zone."""
    return [f"{one.astimezone(ZoneInfo(zone)):%a %H:%M}" for one in instants]


def open_on(*windows: tuple[str, str], days=range(5), zone: str = NEW_YORK, closed: tuple[date, ...] = ()) -> ShopHours:
    """The same windows on each of these days."""
    return ShopHours(zone, {day: list(windows) for day in days}, closed)


DAYTIME = open_on(("08:00", "17:00"))
