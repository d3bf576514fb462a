"""What a shop's list says beside its tools of their past, as the starting states that it is."""

from collections.abc import Iterator
from datetime import datetime

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, Kind, Shop, ToolAlias
from tooling.services.moving_in.targets import START, START_NAMES
from tooling.services.sheets import cells
from tooling.services.sheets.cells import Cell, Frame, folded, shown

_NUMBERS = ("pulls_since_coat", "touch_ups", "total_pulls")
# nobody can say when the next coat is due where one of these is not known
COUNTED = frozenset({"pulls_since_coat", "touch_ups"})
COLUMNS = ("tool", "at", "entry", "prepared", *_NUMBERS, "note")
_BY_NAME = {column.name: column for column in START}


class Starts:
    """The starting states of the tools that were read. A coat whose day nobody remembers is unknown, never today's."""

    def __init__(self, told_at: datetime, file: str) -> None:
        """`told_at`: when the list was handed in, the day of a state whose coat has none; `file`: what it is called."""
        self._told_at, self._file = told_at, file
        self._frame = Frame(Shop.current().zone)
        self._rows: list[tuple[int, int, dict[str, Cell]]] = []
        self._there = _written()

    def add(self, source: int, row: int, values: dict[str, Cell]) -> None:
        """One more tool."""
        said = {name: values.get(name) for name in START_NAMES}
        is_mask = folded(str(values.get("kind") or "")) == Kind.TRIM_MASK
        if values.get("code") is None or (is_mask and not any(said.values())):
            return
        day = said.pop("last_coat")
        prepared = said.pop("prepared") or ("yes" if day is not None else "unknown")
        if day is None and folded(str(prepared)) == "yes":
            prepared = "unknown"  # a coat is on, but how old it is nobody can say: it must not pass for today's
        start = {
            "tool": values["code"],
            "at": self._told_at if day is None else day,
            "entry": "starting_state",
            "prepared": prepared,
            **said,
            "note": _("from %(file)s") % {"file": self._file},
        }
        if not self._is_written(start, day):
            self._rows.append((source, row, start))

    def rows(self) -> Iterator[tuple[int, int, dict[str, Cell]]]:
        """Them, with where each comes from."""
        yield from self._rows

    def _is_written(self, start: dict[str, Cell], day: Cell) -> bool:
        """Whether the tool has begun its history with just that, so that the same list again is harmless."""
        try:
            there = self._there.get(" ".join(shown(start["tool"]).upper().split()))
            if there is None or cells.folded(shown(start["prepared"])) != there.prepared:
                return False
            if day is not None and cells.INSTANT.read(day, self._frame) != there.at:
                return False
            return all(
                (getattr(there, name) or 0) == (0 if start[name] is None else self._whole(name, start[name]))
                for name in _NUMBERS
            )
        except Refused:
            return False

    def _whole(self, name: str, cell: Cell) -> int:
        return int(_BY_NAME[name].kind.read(cell, self._frame))


def _written() -> dict[str, Fact]:
    """The starting state that stands in the history of each tool, by every code that it has or had."""
    starts = Entry.objects.filter(kind="starting_state", voided_by=None, replaced_by=None).select_related("tool")
    found = {entry.tool.code: entry.as_calc() for entry in starts}
    for old, code in ToolAlias.objects.filter(tool__code__in=found).values_list("code", "tool__code"):
        found.setdefault(old, found[code])
    return found
