"""What a tool's page says besides its state and its history: parts it serves, its next look-over, its changes."""

from dataclasses import dataclass
from datetime import datetime, tzinfo

from django.db.models import Max, Q, QuerySet, Sum
from django.db.models.functions import Upper

from tooling.calc.entry import MADE_KINDS
from tooling.models import Entry, Part, PartChange, PartRevision, Tool, ToolChange
from tooling.selectors.look_overs import LookOver, look_over
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
class About:
    """All three; `look_over` None where none is asked for."""

    parts: list[Served]
    look_over: LookOver | None
    changes: list[ToolChange]
    more_changes: bool


def about(tool: Tool, at: datetime, zone: tzinfo) -> About:
    """What is known of a tool, in two queries, and one more where look-overs are counted."""
    changes = list(tool.changes.select_related("who")[: CHANGES + 1])
    return About(served(tool), look_over(tool, at, zone), changes[:CHANGES], len(changes) > CHANGES)


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
