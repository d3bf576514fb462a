"""A cell of the shop's in our words: its words, units, days and codes."""

import re
from datetime import UTC, date, datetime, time
from decimal import Decimal
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from shared import units
from shared.errors import Refused
from tooling.models import ReleaseSystem, ToolAlias, check_code, propose_code
from tooling.models.codes import tidy_older_code
from tooling.services.moving_in import loose
from tooling.services.moving_in.doubts import Doubts
from tooling.services.moving_in.matching import Words
from tooling.services.moving_in.places_met import NEW
from tooling.services.moving_in.tables import key_of
from tooling.services.moving_in.targets import HISTORY, TOOLS, Target
from tooling.services.sheets import cells
from tooling.services.sheets.cells import Broken, Cell, Frame, folded, is_blank, shown

_ANY = Frame(UTC)
_DAY = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})(?:[ T]+(\d{1,2}:\d{2}(?::\d{2})?))?")
_SAYS_NOTHING = frozenset({"?", "??", "-", "–", "—", "n/a", "unknown", "not known", "not sure"})
DAY_FIRST, MONTH_FIRST = "day", "month"
# what a word of theirs may mean as well; what is not known stays legible in the note of the tool
NOTHING, NOT_KNOWN = "-", "?"


class InOurs:
    """Says cells of theirs in our words, by what is known of the shop's words and was said of this upload."""

    def __init__(self, words: Words, *, days: str, takes_proposed: bool, decimal_comma: bool = False) -> None:
        """`days`: how 3/4/2026 is meant, "" where nobody said; `takes_proposed`: whether codes are put right."""
        self.doubts = Doubts()
        # of the row that is being read: columns that are not known, and cells to be kept in the words they are in
        self.not_known: set[str] = set()
        self.kept: list[tuple[str, str]] = []
        self._frame = Frame(UTC, decimal_comma)
        self.takes_proposed = takes_proposed
        self._words, self._days = words, days
        self._recipes = set(ReleaseSystem.objects.values_list("code", flat=True))
        self._older = dict(ToolAlias.objects.values_list("code", "tool__code"))

    def know_recipe(self, code: str) -> None:
        """One more recipe, from a sheet of the upload."""
        self._recipes.add(" ".join(code.upper().split()))

    def begin_row(self) -> None:
        """Forgets what was not known in the row before."""
        self.not_known.clear()
        self.kept.clear()

    def cell(self, sheet: str, target: Target, cell: Cell) -> Cell:
        """What a cell says; None for nothing."""
        if is_blank(cell):
            return None
        if isinstance(cell, Broken):
            return cell
        ours = self._words.get((sheet, target.name, key_of(shown(cell))))
        if ours == NOTHING:
            return None
        if target.is_value:
            return self._value(sheet, target, cell, is_unknown=ours == NOT_KNOWN)
        if isinstance(cell, str):
            if ours and not ours.startswith(NEW):
                return ours
            self._look_at_word(sheet, target, cell)
        return cell

    def _value(self, sheet: str, target: Target, cell: Cell, *, is_unknown: bool) -> Cell:
        """A day or a number."""
        text = " ".join(shown(cell).split())
        if target.may_lack and (is_unknown or text.casefold() in _SAYS_NOTHING):
            self._lacks(sheet, target, text)
            return None
        if target.column.kind not in (cells.DATE, cells.INSTANT):
            said = self._number(sheet, target, cell, text)
        elif not isinstance(cell, str):
            said = cell
        elif loose.is_month(text) and target.may_lack:
            self._lacks(sheet, target, text)
            return None
        else:
            said = self._day(text)
            if isinstance(said, date):
                self.doubts.read(sheet, target.name, text, f"{said:%Y-%m-%d}")
        if target.may_lack and not isinstance(said, Broken) and not self._is_read(target, said):
            self.doubts.word(sheet, target.name, text)
        return said

    def _lacks(self, sheet: str, target: Target, text: str) -> None:
        self.not_known.add(target.column.name)
        if text.casefold() not in _SAYS_NOTHING:
            self.kept.append((target.name, text))
        self.doubts.read(sheet, target.name, text, _("not known"))

    def _number(self, sheet: str, target: Target, cell: Cell, text: str) -> Cell:
        said = cell
        if isinstance(cell, str):
            number = loose.number(text, is_count=not target.unit)
            if number.text != text:
                said = number.text
                if number.is_about:
                    self.kept.append((target.name, text))
                self.doubts.read(sheet, target.name, text, number.text)
        return _in_si(said, target.unit, one_unit=target.column.one_unit) if target.unit else said

    def _is_read(self, target: Target, cell: Cell) -> bool:
        try:
            target.column.kind.read(cell, self._frame)
        except Refused:
            return False
        return True

    def code(self, cell: Cell) -> tuple[Cell, str]:
        """A code, and the old one that is taken in beside it; "" where it stays what it is."""
        if cell is None or isinstance(cell, Broken | date | time):
            return cell, ""
        old = " ".join(shown(cell).upper().split())
        try:
            check_code(old)
        except ValidationError:
            if old in self._older:  # an earlier upload brought it in, and this name of it stays known
                return self._older[old], old
            proposed = propose_code(old)
            if not proposed:
                return cell, ""
            self.doubts.code(old, proposed)
            return (proposed, tidy_older_code(old)) if self.takes_proposed else (cell, "")
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
        found = _DAY.fullmatch(text)
        if found is None:
            return _in_words(text)
        one, sign, two, year, clock = found.groups()
        is_day_first = sign == "." or int(one) > 12 or (int(two) <= 12 and self._days == DAY_FIRST)
        if sign != "." and int(one) <= 12 and int(two) <= 12 and one != two and not self._days:
            self.doubts.days = self.doubts.days or text
            return Broken(two_days(text))
        day, month = (int(one), int(two)) if is_day_first else (int(two), int(one))
        try:
            said = date(loose.full_year(year), month, day)
            return datetime.combine(said, _clock(clock)) if clock else said
        except ValueError:
            return Broken(_("“%(text)s” is no day.") % {"text": text})


def two_days(text: str) -> str:
    """What is wrong with 3/4/2026 where nobody said how days are written."""
    return _("Say how days are written here: %(text)s may be two.") % {"text": text}


def _in_words(text: str) -> Cell:
    try:
        return loose.day_in_words(text) or text
    except ValueError:
        return Broken(_("“%(text)s” is no day.") % {"text": text})


def _clock(text: str) -> time:
    return time.fromisoformat(text.zfill(5) if text.count(":") == 1 else text.zfill(8))


def _in_si(cell: Cell, unit: str, *, one_unit: bool) -> Cell:
    """A measure in mm, kg or °C; what cannot be read, or is in another unit, is left for the importer to refuse."""
    known = units.UNITS[unit]
    if isinstance(cell, str):
        try:
            meant = units.read(cell, known)
            return cell if one_unit and meant.unit != known else units.stored(meant.si)
        except units.NotRead:
            return cell
    if isinstance(cell, bool) or not isinstance(cell, int | Decimal) or not Decimal(cell).is_finite():
        return cell
    return cell if known.symbol == known.si else units.stored(units.to_si(Fraction(cell), known))
