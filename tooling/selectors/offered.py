"""Pages that another app has of tools of its kind, offered where such a tool stands."""

from collections import defaultdict
from dataclasses import dataclass

from django.utils.functional import Promise


@dataclass(frozen=True, slots=True)
class Offered:
    """What it is called, and the name of its address, which takes the code of the tool."""

    word: str | Promise
    name: str


class OfKind:
    """Those of each kind of tool, in the order in which they were added."""

    def __init__(self) -> None:
        """Begins with none."""
        self._offered: dict[str, list[Offered]] = defaultdict(list)

    def register(self, kind: str, offered: Offered) -> None:
        """Adds one of tools of a kind; none is added twice."""
        if offered not in self._offered[kind]:
            self._offered[kind].append(offered)

    def of(self, kind: str) -> list[Offered]:
        """Those of a kind."""
        return list(self._offered.get(kind, ()))


# At a tool's lines in a tool set; the address asks part and revision besides.
papers = OfKind()
# On the page of its readings: what else is measured of it.
more_readings = OfKind()
