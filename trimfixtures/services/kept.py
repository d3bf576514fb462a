"""What is locked before a trim mask and its cuts are described: its tool, and the cutters that they take."""

from collections.abc import Iterable

from tooling.services.kept import lock
from trimfixtures.models import Cutter, Mask


def lock_mask(mask: Mask) -> Mask:
    """The row as it is now, with its tool locked."""
    lock(mask.tool)
    return Mask.objects.select_related("tool").get(pk=mask.pk)


def lock_library(keys: Iterable[int | None]) -> dict[int | None, Cutter]:
    """The cutters and bushings of these keys as they are now, locked in one order: no size changes meanwhile."""
    wanted = {key for key in keys if key is not None}
    return {one.pk: one for one in Cutter.objects.select_for_update().filter(pk__in=wanted).order_by("pk")}
