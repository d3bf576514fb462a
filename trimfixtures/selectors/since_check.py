"""Which parts were cut since the cut edge last passed a check: what a check that fails puts in doubt."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from tooling.calc.entry import part_key
from tooling.models import Entry, Tool
from tooling.models.serials import split, whole_key

# More serial numbers than these are counted, not named.
MOST = 200


@dataclass(frozen=True, slots=True)
class OfPart:
    """One part: its serial numbers, the last cut first; how many more have one; and how many have none."""

    part: str
    numbers: tuple[str, ...]
    more: int = 0
    without: int = 0


@dataclass(frozen=True, slots=True)
class SinceCheck:
    """When a check passed last, None where none ever did; how many parts were cut since, and which."""

    passed_at: datetime | None
    count: int
    parts: tuple[OfPart, ...]


def since_check(tool: Tool, at: datetime) -> SinceCheck:
    """Of one trim mask as of a moment, in two queries."""
    standing = Entry.objects.filter(tool=tool, at__lte=at).standing()
    passed = standing.filter(kind="check", payload__passed=True).order_by("-at", "-pk").only("at", "pk").first()
    used = standing.filter(kind="used").order_by("-at", "-pk")
    if passed is not None:
        used = used.filter(Q(at__gt=passed.at) | Q(at=passed.at, pk__gt=passed.pk))
    numbers: dict[str, dict[str, str]] = defaultdict(dict)
    without: dict[str, int] = defaultdict(int)
    named, count = {}, 0
    for part, serial, of_it in used.values_list("part", "serial", "count"):
        key, these = part_key(part), split(serial)
        named.setdefault(key, part)
        for one in these:
            numbers[key].setdefault(whole_key(one), one)
        without[key] += max(0, (of_it or 1) - len(these))
        count += of_it or 1
    parts = tuple(_of(named[key], [*numbers[key].values()], without[key]) for key in named)
    return SinceCheck(passed.at if passed is not None else None, count, parts)


def _of(part: str, numbers: list[str], without: int) -> OfPart:
    return OfPart(part, tuple(numbers[:MOST]), len(numbers[MOST:]), without)
