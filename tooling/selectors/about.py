"""What a tool's page says besides its state and its history: parts it serves, its next look-over, its changes."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo

from django.db.models import Count, Max, Min, Q, QuerySet, Sum
from django.db.models.functions import Upper

from tooling.calc.entry import MADE_KINDS
from tooling.models import Entry, Part, PartChange, PartRevision, Tool, ToolChange
from tooling.selectors.timeline import facts_of

# Changes shown on the page; more are counted.
CHANGES = 20


@dataclass(frozen=True, slots=True)
class Served:
    """A part that the history names: its number, how many came off or were trimmed, and when last."""

    number: str
    pulls: int
    last: datetime


@dataclass(frozen=True, slots=True)
class LookOver:
    """When somebody is to look it over next: in so many pulls (below 0: past), on a day, counted from a look-over."""

    pulls: int | None
    day: date | None
    since: datetime | None

    def is_wanted(self, today: date) -> bool:
        """Whether it is time."""
        return (self.pulls is not None and self.pulls <= 0) or (self.day is not None and self.day <= today)


@dataclass(frozen=True, slots=True)
class About:
    """All three; `look_over` None where none is asked for."""

    parts: list[Served]
    look_over: LookOver | None
    changes: list[ToolChange]
    more_changes: bool


def about(tool: Tool, zone: tzinfo) -> About:
    """What is known of a tool, in two queries, and two more where look-overs are counted."""
    changes = list(tool.changes.select_related("who")[: CHANGES + 1])
    return About(served(tool), look_over(tool, zone), changes[:CHANGES], len(changes) > CHANGES)


# What is changed by a deed once there is a history
_BY_DEED = {"place": Q(kind="moved", payload__home=True), "release_system": Q(kind="release_system")}


def part_changes(part: Part) -> tuple[list[PartChange], bool]:
    """What was changed of a part, the newest first, and whether there is more than is shown."""
    changes = list(part.changes.select_related("who", "revision")[: CHANGES + 1])
    return changes[:CHANGES], len(changes) > CHANGES


def who_changed(tool: Tool, column: str, *, begun: bool) -> str:
    """The name of whoever changed a column of a tool last; "" where nobody is known."""
    if begun and column in _BY_DEED:
        last = Entry.objects.filter(_BY_DEED[column], tool=tool).standing().order_by("-id").select_related("by").first()
        return last.by.name if last is not None and last.by is not None else ""
    return _last_name(tool.changes.filter(field=column))


def who_changed_part(revision: PartRevision, column: str) -> str:
    """The name of whoever changed a column of a revision last."""
    return _last_name(PartChange.objects.filter(revision=revision, field=column))


def _last_name(changes: QuerySet) -> str:
    return changes.values_list("who__name", flat=True).first() or ""


def served(tool: Tool) -> list[Served]:
    """The parts that a history names, the last made first."""
    rows = (
        parts_named(tool).order_by().values(key=Upper("part"))
        .annotate(number=Max("part"), last=Max("at"), pulls=Sum("count", filter=Q(kind__in=("pull", "used"))))
    )  # fmt: skip
    found = [Served(row["number"], row["pulls"] or 0, row["last"]) for row in rows]
    return sorted(found, key=lambda one: (-one.last.timestamp(), one.number))


def parts_named(tool: Tool) -> QuerySet[Entry]:
    """The standing uses that name a part; an insert's are those of its molds that reach it."""
    return facts_of(tool).not_void().filter(kind__in=MADE_KINDS).exclude(part="")


def look_over(tool: Tool, zone: tzinfo) -> LookOver | None:
    """The next look-over, counted from the last one; before the first, from the beginning."""
    if not (tool.inspect_every_pulls or tool.inspect_every_days):
        return None
    standing = facts_of(tool).not_void()
    # A mold's facts are also of its inserts that were put in: only its own look-overs count.
    own = Entry.objects.filter(tool=tool, kind="inspected").standing()
    last = own.aggregate(last=Max("at"))["last"]
    known = standing.aggregate(
        pulls=Sum("count", filter=Q(kind="pull") & (Q(at__gt=last) if last else Q())), first=Min("at"), n=Count("pk")
    )
    left = tool.inspect_every_pulls - (known["pulls"] or 0) if tool.inspect_every_pulls else None
    since = last.astimezone(zone).date() if last else _begun(tool, known["first"], zone)
    day = since + timedelta(days=tool.inspect_every_days) if tool.inspect_every_days and since else None
    return LookOver(left, day, last)


def _begun(tool: Tool, first: datetime | None, zone: tzinfo) -> date | None:
    return tool.built_on or (first.astimezone(zone).date() if first else None)
