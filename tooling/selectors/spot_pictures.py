"""Pictures of one spot over time: those that were given with readings which name it."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from tooling.models import Picture
from tooling.selectors.pictures import of_entries
from tooling.selectors.readings import Reading, Series

# So many stand side by side: the first, and the newest.
MOST = 6


@dataclass(frozen=True, slots=True)
class Seen:
    """A picture with the reading that it was given with."""

    picture: Picture
    reading: Reading
    unit: str


@dataclass(frozen=True, slots=True)
class Spot:
    """A spot with its pictures in order of time. more: how many between the first and the others are left out."""

    name: str
    seen: list[Seen]
    more: int


def by_spot(every: Iterable[Series]) -> list[Spot]:
    """The spots of which there is a picture, by name. One query, none where no reading names a spot."""
    read = [(one, series.unit) for series in every for one in series.readings if one.spot]
    pictures = of_entries({one.entry.pk for one, _unit in read})
    found: dict[str, list[Seen]] = defaultdict(list)
    for one, unit in sorted(read, key=lambda of: (of[0].entry.at, of[0].entry.pk)):
        found[one.spot.casefold()] += [Seen(picture, one, unit) for picture in pictures.get(one.entry.pk, ())]
    return [_spot(those) for _name, those in sorted(found.items()) if those]


def _spot(seen: list[Seen]) -> Spot:
    few = seen if len(seen) <= MOST else [seen[0], *seen[-(MOST - 1) :]]
    return Spot(seen[-1].reading.spot, few, len(seen) - len(few))
