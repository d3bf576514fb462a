"""How the pulls came off by the lot of their coats, for the page of a recipe."""

from dataclasses import dataclass

from django.db.models.fields.json import KT

from tooling.calc.entry import Entry as Fact
from tooling.calc.lots import LotCount, by_lot
from tooling.models import Entry, Tool

# So many of the shop's newest entries are looked through, however long its history is: some months of a busy shop.
LOOKED_THROUGH = 20_000
# As many lots as a person compares.
SHOWN = 12
_KINDS = ("coat", "pull", "strip", "repair", "polish", "resurfaced", "release_system")

# What is counted by: whole entries, with all that they carry, are many times as much.
_COLUMNS = (
    "id", "tool", "kind", "at", "area", "count", "came_off", "release_system",
    "payload__cause", "payload__surface", "lot_said",
)  # fmt: skip


@dataclass(frozen=True)
class Lots:
    """The lots that were used last. `whole`: nothing was left out for its age."""

    counts: tuple[LotCount, ...]
    whole: bool


def lots_of(recipe: str) -> Lots:
    """The lots of the coats on the tools that are on a recipe, each since its tool came onto it."""
    newest = Entry.objects.order_by("-id").values_list("id", flat=True).first() or 0
    since = newest - LOOKED_THROUGH
    tools = Tool.objects.filter(summary__state__system=recipe).values("pk")
    entries = Entry.objects.filter(id__gt=since, kind__in=_KINDS, tool__in=tools).standing().order_by("at", "id")
    entries = entries.annotate(lot_said=KT("payload__lot"))  # as text: SQLite would take lot 12.50 for a number
    found = [(_fact(*row), row[-1]) for row in entries.values_list(*_COLUMNS)]
    changed = {one.tool: place for place, (one, _lot) in enumerate(found) if one.kind == "release_system"}
    mine = [one for place, one in enumerate(found) if place > changed.get(one[0].tool, -1)]
    own = {"", recipe}
    lots = {one.id: lot or "" for one, lot in mine if one.kind == "coat" and one.release_system in own}
    return Lots(tuple(by_lot((one for one, _lot in mine), lots)[:SHOWN]), since <= 0)


def _fact(key, tool, kind, at, area, count, came_off, system, cause, surface, _lot) -> Fact:
    """An entry as far as the lots are counted by it."""
    said = {"cause": cause} if cause is not None else {}
    return Fact(
        id=key, tool=tool, kind=kind, at=at, recorded_at=at, area=area, count=count, came_off=came_off,
        release_system=system, surface=surface, **said,
    )  # fmt: skip
