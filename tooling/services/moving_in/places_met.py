"""Places that a list of tools names and nobody has put up yet: each gets a code, in the order of the file."""

from dataclasses import dataclass, field

from tooling.models import Place, propose_code
from tooling.models.codes import LONGEST
from tooling.services.sheets.cells import Broken, Cell, shown


@dataclass(frozen=True, slots=True)
class Met:
    """A place that is new: where it was met first."""

    code: str
    name: str
    source: int
    row: int


@dataclass
class Places:
    """The places that there are, by code and by name, and those that are new."""

    codes: set[str] = field(default_factory=set)
    by_name: dict[str, str] = field(default_factory=dict)
    new: list[Met] = field(default_factory=list)

    @classmethod
    def of_the_shop(cls) -> "Places":
        """Those that the shop has."""
        known = cls()
        for code, name in Place.objects.order_by("code").values_list("code", "name"):
            known.add(code, name)
        return known

    def add(self, code: str, name: str) -> None:
        """One that there is."""
        self.codes.add(code)
        self.by_name.setdefault(_key(name), code)

    def called(self, cell: Cell) -> Cell:
        """The code of the place that a cell means, where there is one; else the cell."""
        if cell is None or isinstance(cell, Broken):
            return cell
        text = shown(cell)
        code = " ".join(text.upper().split())
        if code in self.codes:
            return code
        return self.by_name.get(_key(text), cell)

    def meet(self, cell: Cell, source: int, row: int) -> None:
        """Takes note of a place that a tool lies at."""
        if cell is None or isinstance(cell, Broken) or (self.called(cell) in self.codes):
            return
        name = " ".join(shown(cell).split())
        code = self._free(propose_code(name))
        if code:
            self.new.append(Met(code, name, source, row))
            self.add(code, name)

    def _free(self, code: str) -> str:
        """That code, or the next with a number behind it: long names are cut to the same one."""
        number, free = 1, code
        while free in self.codes:
            number += 1
            free = f"{code[: LONGEST - len(str(number)) - 1].rstrip('-.')}-{number}"
        return free


def _key(name: str) -> str:
    return " ".join(name.casefold().split())
