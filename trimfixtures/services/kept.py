"""What a deed of the catalogue does first and last with a trim mask: its tool is locked, and its change kept."""

from collections.abc import Iterable
from datetime import datetime

from tooling.models import Person, Summary, Tool, ToolChange
from trimfixtures.models import Cutter, Mask


def lock(tool: Tool) -> None:
    """Lets one after the other describe a trim mask and its cuts."""
    # Its summary, as every deed does, so that no deed comes in between.
    Summary.objects.select_for_update(of=("self",)).get(tool=tool)


def lock_mask(mask: Mask) -> Mask:
    """The row as it is now, with its tool locked."""
    lock(mask.tool)
    return Mask.objects.select_related("tool").get(pk=mask.pk)


def lock_library(keys: Iterable[int | None]) -> dict[int | None, Cutter]:
    """The cutters and bushings of these keys as they are now, locked in one order: no size changes meanwhile."""
    wanted = {key for key in keys if key is not None}
    return {one.pk: one for one in Cutter.objects.select_for_update().filter(pk__in=wanted).order_by("pk")}


def keep(tool: Tool, by: Person, at: datetime, field: str, *, before: str = "", after: str = "") -> None:
    """Keeps a change; the same is none. Its tag says nothing of a cut: who changes what stands there says so."""
    if before != after:
        ToolChange.objects.create(tool=tool, at=at, who=by, field=field, before=before, after=after)
