"""What the walk along the racks knows: the recipe of each kind, and what somebody has taken in today."""

from dataclasses import dataclass
from datetime import datetime, time

from django.db.models import Count, Q

from tooling.calc.entry import RELEASE_KINDS
from tooling.models import Entry, Kind, Person, Shop, Summary, Tool, ToolChange
from tooling.selectors.recipes import in_force

# What each kind begins with where no tool of it is there yet, the first that the shop has.
_USUAL = {Kind.MOLD: ("WAX", "SEMI", "WAX-FILM"), Kind.PLUG: ("WAX-PLUG",), Kind.INSERT: ("WAX-INSERT",)}


@dataclass(frozen=True, slots=True)
class Proposed:
    """The recipe of each kind with a surface, by the kind, and the families of these recipes."""

    by_kind: dict[str, str]
    families: frozenset[str]


def proposed(at: datetime) -> Proposed:
    """For each kind the recipe that most of its tools are on; without a tool the usual one, or the only one."""
    there = in_force(at)
    counts = Summary.objects.filter(retired=False).values_list("tool__kind", "state__system").annotate(n=Count("pk"))
    used = sorted(counts.order_by(), key=lambda row: (-row[2], row[1] or ""))
    by_kind = {}
    for kind in (Kind.MOLD, Kind.PLUG, Kind.INSERT):
        of_kind = [system for its_kind, system, _n in used if its_kind == kind and system in there]
        usual = [code for code in _USUAL[kind] if code in there]
        only = list(there) if len(there) == 1 else []
        if found := [*of_kind, *usual, *only]:
            by_kind[str(kind)] = found[0]
    return Proposed(by_kind, frozenset(there[code].family for code in by_kind.values()))


def taken(by: Person, at: datetime) -> list[Tool]:
    """The tools that somebody brought in on this day of the shop, the last first, without those taken back."""
    zone = Shop.current().zone
    since = datetime.combine(at.astimezone(zone).date(), time(), tzinfo=zone)
    brought_in = ToolChange.objects.filter(who=by, field="code", before="", at__gte=since, tool__summary__retired=False)
    changes = brought_in.select_related("tool__summary__home").order_by("-at", "-pk")
    return [change.tool for change in changes]


def starting_state(tool: Tool) -> Entry | None:
    """The starting state that stands in a tool's history."""
    return Entry.objects.filter(tool=tool, kind="starting_state", voided_by=None, replaced_by=None).first()


def begun(tool: Tool) -> bool:
    """Whether more was written of its surface than how it stood at the start."""
    standing = Entry.objects.filter(tool=tool, kind__in=RELEASE_KINDS, voided_by=None, replaced_by=None)
    return standing.filter(~Q(kind="starting_state")).exists()
