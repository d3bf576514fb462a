"""A cell of the shop's in our words: its words, units, days and codes."""

import re
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from decimal import Decimal
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from shared import units
from shared.errors import Refused
from tooling.models import ReleaseSystem, check_code, propose_code
from tooling.services.moving_in.matching import Words
from tooling.services.moving_in.tables import key_of
from tooling.services.moving_in.targets import HISTORY, TOOLS, Target
from tooling.services.sheets import cells
from tooling.services.sheets.cells import Broken, Cell, Frame, folded, is_blank, shown

_ANY = Frame(UTC)
_DAY = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})(?:[ T]+(\d{1,2}:\d{2}(?::\d{2})?))?")
_NOT_KNOWN = frozenset({"?", "-", "–", "n/a", "unknown", "not known", "not sure"})
_MOST_LISTED = 50
DAY_FIRST, MONTH_FIRST = "day", "month"
NOTHING = "-"  # what a word of theirs may mean as well


@dataclass
class Doubts:
    """What came up while reading that somebody can settle once for all rows: for the page, in the order of the file."""

    words: dict[tuple[str, str], dict[str, int]] = field(default_factory=dict)
    codes: dict[str, str] = field(default_factory=dict)
    code_count: int = 0
    days: str = ""

    def word(self, sheet: str, column: str, word: str) -> None:
        """A word that is none of ours."""
        counts = self.words.setdefault((sheet, column), {})
        if word in counts or len(counts) < _MOST_LISTED:
            counts[word] = counts.get(word, 0) + 1

    def code(self, old: str, proposed: str) -> None:
        """A code that cannot be one."""
        self.code_count += 1
        if len(self.codes) < _MOST_LISTED:
            self.codes[old] = proposed


class InOurs:
    """Says cells of theirs in our words, by what is known of the shop's words and was said of this upload."""

    def __init__(self, words: Words, *, days: str, takes_proposed: bool) -> None:
        """`days`: how 3/4/2026 is meant, "" where nobody said; `takes_proposed`: whether codes are put right."""
        self.doubts = Doubts()
        self.takes_proposed = takes_proposed
        self._words, self._days = words, days
        self._recipes = set(ReleaseSystem.objects.values_list("code", flat=True))

    def know_recipe(self, code: str) -> None:
        """One more recipe, from a sheet of the upload."""
        self._recipes.add(" ".join(code.upper().split()))

    def cell(self, sheet: str, target: Target, cell: Cell) -> Cell:
        """What a cell says; None for nothing."""
        if is_blank(cell):
            return None
        kind = target.column.kind
        if isinstance(cell, str):
            ours = self._words.get((sheet, target.name, key_of(cell)))
            if ours:
                return None if ours == NOTHING else ours
            if target.name == "last_coat" and cell.strip().casefold() in _NOT_KNOWN:
                return None
            if kind in (cells.DATE, cells.INSTANT):
                return self._day(cell)
        if target.unit:
            return _in_si(cell, target.unit)
        if isinstance(cell, str):
            self._look_at_word(sheet, target, cell)
        return cell

    def code(self, cell: Cell) -> tuple[Cell, str]:
        """A code, and the old one that is taken in beside it; "" where it stays what it is."""
        if cell is None or isinstance(cell, Broken | date | time):
            return cell, ""
        old = " ".join(shown(cell).upper().split())
        try:
            check_code(old)
        except ValidationError:
            proposed = propose_code(old)
            if not proposed:
                return cell, ""
            self.doubts.code(old, proposed)
            # an alias stands between commas
            return (proposed, " ".join(old.replace(",", " ").split())) if self.takes_proposed else (cell, "")
        return cell, ""

    def _look_at_word(self, sheet: str, target: Target, cell: str) -> None:
        column = target.column
        if column.name == "release_system" and sheet in (TOOLS, HISTORY):
            if " ".join(cell.upper().split()) not in self._recipes:
                self.doubts.word(sheet, target.name, cell.strip())
        elif column.kind.words:
            try:
                is_known = sheet != HISTORY or column.name != "entry" or folded(cell) in column.kind.words
                column.kind.read(cell, _ANY)
            except Refused:
                is_known = False
            if not is_known:
                self.doubts.word(sheet, target.name, cell.strip())

    def _day(self, text: str) -> Cell:
        """A day as people write it; anything else as it is."""
        found = _DAY.fullmatch(text.strip())
        if found is None:
            return text
        one, sign, two, year, clock = found.groups()
        is_day_first = sign == "." or int(one) > 12 or (int(two) <= 12 and self._days == DAY_FIRST)
        if sign != "." and int(one) <= 12 and int(two) <= 12 and one != two and not self._days:
            self.doubts.days = self.doubts.days or text.strip()
            return Broken(_("Say how days are written here: %(text)s may be two.") % {"text": text.strip()})
        day, month = (int(one), int(two)) if is_day_first else (int(two), int(one))
        full = int(year) if len(year) == 4 else int(year) + (2000 if int(year) < 50 else 1900)
        try:
            said = date(full, month, day)
            return datetime.combine(said, _clock(clock)) if clock else said
        except ValueError:
            return Broken(_("“%(text)s” is no day.") % {"text": text.strip()})


def _clock(text: str) -> time:
    return time.fromisoformat(text.zfill(5) if text.count(":") == 1 else text.zfill(8))


def _in_si(cell: Cell, unit: str) -> Cell:
    """A measure in mm, kg or °C; what cannot be read is left for the importer to refuse."""
    known = units.UNITS[unit]
    if isinstance(cell, str):
        try:
            return units.stored(units.read(cell, known).si)
        except units.NotRead:
            return cell
    if isinstance(cell, bool) or not isinstance(cell, int | Decimal) or not Decimal(cell).is_finite():
        return cell
    return cell if known.symbol == known.si else units.stored(units.to_si(Fraction(cell), known))
