"""What the walk along the racks knows: the recipe of each kind, and what somebody has taken in today."""

from dataclasses import dataclass
from datetime import datetime, time

from django.db.models import Q

from tooling.calc.entry import RELEASE_KINDS
from tooling.models import Entry, Kind, Person, Shop, Tool, ToolChange
from tooling.models.recipes import Family
from tooling.selectors.recipes import in_force
from tooling.selectors.usual import usual_recipes

# The starters that are written for one kind alone, offered to a shop that waxes before it has taken them in.
_STARTERS = {Kind.PLUG: "WAX-PLUG", Kind.INSERT: "WAX-INSERT"}


@dataclass(frozen=True, slots=True)
class Proposed:
    """The recipe of each kind with a surface, by the kind, and the families of these recipes.

    `starters`: those of them that the shop has yet to take in.
    """

    by_kind: dict[str, str]
    families: frozenset[str]
    starters: frozenset[str]


def proposed(at: datetime) -> Proposed:
    """For each kind the recipe that is usual for it; to a plug or an insert in a shop that waxes, else its starter.

    A mold's recipe is never proposed for another kind: a plug wants a film at every pull.
    """
    there = in_force(at)
    families = {code: version.family for code, version in there.items()}
    usual = {kind: system.code for kind, system in usual_recipes().items() if system.code in there}
    waxes = Family.PASTE_WAX in families.values()
    new = {str(kind): code for kind, code in _STARTERS.items() if waxes and kind not in usual and code not in there}
    by_kind = {str(kind): (usual | new)[kind] for kind in (Kind.MOLD, Kind.PLUG, Kind.INSERT) if kind in usual | new}
    known = frozenset(families.get(code, Family.PASTE_WAX) for code in by_kind.values())
    return Proposed(by_kind, known, frozenset(new.values()))


def brought_in(by: Person, at: datetime) -> list[Tool]:
    """The tools that somebody brought in on this day of the shop, the last first, those taken back as well."""
    zone = Shop.current().zone
    since = datetime.combine(at.astimezone(zone).date(), time(), tzinfo=zone)
    new = ToolChange.objects.filter(who=by, field="code", before="", at__gte=since)
    changes = new.select_related("tool__summary__home").order_by("-at", "-pk")
    return [change.tool for change in changes]


def starting_state(tool: Tool) -> Entry | None:
    """The starting state that stands in a tool's history."""
    return Entry.objects.filter(tool=tool, kind="starting_state", voided_by=None, replaced_by=None).first()


def begun(tool: Tool) -> bool:
    """Whether more was written of its surface than how it stood at the start."""
    standing = Entry.objects.filter(tool=tool, kind__in=RELEASE_KINDS, voided_by=None, replaced_by=None)
    return standing.filter(~Q(kind="starting_state")).exists()


def grown(tool: Tool) -> bool:
    """Whether anything stands in its history but how it stood at the start."""
    return Entry.objects.filter(tool=tool, voided_by=None, replaced_by=None).exclude(kind="starting_state").exists()


def taken_back(tool: Tool) -> Entry | None:
    """The entry by which it was taken back from the walk: nothing else was ever written of it."""
    standing = Entry.objects.filter(tool=tool, voided_by=None, replaced_by=None).exclude(kind="starting_state")
    entries = list(standing[:2])
    return entries[0] if [entry.kind for entry in entries] == ["retired"] else None
