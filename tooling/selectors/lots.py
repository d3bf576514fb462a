"""How the pulls came off by the lot of their coats, for the page of a recipe."""

from dataclasses import dataclass

from tooling.calc.lots import LotCount, by_lot
from tooling.models import Entry, Tool

# So many of the shop's newest entries are looked through, however long its history is: some months of a busy shop.
LOOKED_THROUGH = 20_000
# As many lots as a person compares.
SHOWN = 12
_KINDS = ("coat", "pull", "strip", "repair", "polish", "resurfaced", "release_system")


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
    found = list(Entry.objects.filter(id__gt=since, kind__in=_KINDS, tool__in=tools).standing().order_by("at", "id"))
    changed = {one.tool_id: place for place, one in enumerate(found) if one.kind == "release_system"}
    mine = [one for place, one in enumerate(found) if place > changed.get(one.tool_id, -1)]
    own = {"", recipe}
    lots = {one.pk: one.payload.get("lot", "") for one in mine if one.kind == "coat" and one.release_system in own}
    return Lots(tuple(by_lot((one.as_calc() for one in mine), lots)[:SHOWN]), since <= 0)
