"""Places that a list of tools names: those that there are, those that are new, and those that nobody has settled."""

import re
from dataclasses import dataclass, field
from difflib import get_close_matches

from tooling.models import Place, PlaceAlias, propose_code
from tooling.models.codes import LONGEST
from tooling.services.moving_in.tables import key_of
from tooling.services.sheets.cells import Broken, Cell, shown

NEW = "+"  # said of a name: it is a new place; what follows is the code of the one that it lies in
_PIECES = re.compile(r"[^\W\d_]+|\d+")
_SAY_NOTHING = frozenset({"rack", "racks", "shelf", "shelves", "level", "bay", "row", "place", "no", "nr", "the"})
_NEAR = 0.82


@dataclass(frozen=True, slots=True)
class Met:
    """A place that is new: where it was met first."""

    code: str
    name: str
    source: int
    row: int
    parent: str = ""


@dataclass(slots=True)
class Unsettled:
    """A place that is not there by this name: the one that may be meant, "" for none; the code that it would get."""

    name: str
    code: str
    likely: str
    count: int = 0


@dataclass
class Places:
    """The places that there are, by code, by name and by what is left of both; what was said of other names."""

    said: dict[str, str] = field(default_factory=dict)  # by key of the name
    makes_others: bool = False
    codes: set[str] = field(default_factory=set)
    by_name: dict[str, str] = field(default_factory=dict)
    new: list[Met] = field(default_factory=list)
    unsettled: dict[str, Unsettled] = field(default_factory=dict)
    _older: dict[str, str] = field(default_factory=dict)
    _by_pieces: dict[tuple[str, ...], str] = field(default_factory=dict)

    @classmethod
    def of_the_shop(cls, said: dict[str, str], *, makes_others: bool) -> "Places":
        """Those that the shop has. `makes_others`: names that nobody said anything of, and like no place, are new."""
        known = cls(said, makes_others, _older=dict(PlaceAlias.objects.values_list("code", "place__code")))
        for code, name in Place.objects.order_by("code").values_list("code", "name"):
            known.add(code, name)
        return known

    def add(self, code: str, name: str) -> None:
        """One that there is."""
        self.codes.add(code)
        self.by_name.setdefault(_key(name), code)
        for text in (code, name):
            self._by_pieces.setdefault(_pieces(text), code)

    def called(self, cell: Cell) -> Cell:
        """The code of the place that a cell means, where there is one; else the cell."""
        if cell is None or isinstance(cell, Broken):
            return cell
        text = shown(cell)
        code = " ".join(text.upper().split())
        if code in self.codes:
            return code
        return self.by_name.get(_key(text)) or self._older.get(code) or cell

    def meet(self, cell: Cell, source: int, row: int) -> None:
        """Takes note of a place that a tool lies at."""
        if cell is None or isinstance(cell, Broken) or (self.called(cell) in self.codes):
            return
        name = " ".join(shown(cell).split())
        said = self.said.get(key_of(name), "")
        parent = said.removeprefix(NEW)
        likely = self._likely(name)
        code = self._free(propose_code(name))
        if code and (said == NEW or (said.startswith(NEW) and parent in self.codes)):
            self._make(Met(code, name, source, row, parent))
        elif code and self.makes_others and not likely and not said:
            self._make(Met(code, name, source, row))
        else:
            one = self.unsettled.setdefault(_key(name), Unsettled(name, code, likely))
            one.count += 1

    def is_unsettled(self, name: str) -> bool:
        """Whether somebody is asked what this name means."""
        return _key(name) in self.unsettled

    def _make(self, met: Met) -> None:
        self.new.append(met)
        self.codes.add(met.code)
        self.by_name.setdefault(_key(met.name), met.code)

    def _likely(self, name: str) -> str:
        pieces = _pieces(name)
        if pieces and pieces in self._by_pieces:
            return self._by_pieces[pieces]
        met = {met.code for met in self.new}
        names = {known: code for known, code in self.by_name.items() if code not in met}
        digits = [piece for piece in pieces if piece.isdigit()]
        near = get_close_matches(_key(name), names, 3, _NEAR)
        # shelf 3 is never shelf 4, however alike they look
        return next((names[one] for one in near if [p for p in _pieces(one) if p.isdigit()] == digits), "")

    def _free(self, code: str) -> str:
        """That code, or the next with a number behind it: long names are cut to the same one."""
        number, free = 1, code
        while code and (free in self.codes or free in self._older):
            number += 1
            free = f"{code[: LONGEST - len(str(number)) - 1].rstrip('-.')}-{number}"
        return free


def _key(name: str) -> str:
    return " ".join(name.casefold().split())


def _pieces(text: str) -> tuple[str, ...]:
    """What tells a place from others: a and 1 of “Rack A / 1”, of A-1 and of “Rack A, shelf 1”."""
    return tuple(piece.lstrip("0") or "0" for piece in _PIECES.findall(text.casefold()) if piece not in _SAY_NOTHING)
