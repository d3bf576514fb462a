"""The deeds of trim masks, a file each; like those of `tooling`."""

from trimfixtures.views.deeds.check_edge import check_edge
from trimfixtures.views.deeds.cross import tape_cross
from trimfixtures.views.deeds.cut_into import cut_into
from trimfixtures.views.deeds.trimmed import trimmed

__all__ = ["check_edge", "cut_into", "tape_cross", "trimmed"]
