"""What can be seen of the rows of a history only together. They may stand in any order.

A row is wrong where the ledger would have refused it at its turn, and would refuse it still when all rows are there. So
neither a sheet that is out of order nor the export of a shop where an entry was made void since is found at fault.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby
from operator import attrgetter
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.check import Refusal, check_other_system, check_surface, check_target
from tooling.calc.entry import INSERT_KINDS, USE_KINDS, VOID
from tooling.calc.entry import Entry as Fact
from tooling.calc.fold import fold
from tooling.calc.membership import Stay, TwoMolds, reached, stays, uses
from tooling.calc.order import Placed, effective
from tooling.calc.recipe import RecipeBook
from tooling.selectors.history import History
from tooling.services.refusals import refused
from tooling.services.sheets.history_rows import Line, Reader
from tooling.services.sheets.table import Load

_NAME = "history"
# All that decides which recipe is in force
_SYSTEM_KINDS = frozenset({"release_system", "starting_state", "retired", "reinstated"})
_NO_RECIPES = RecipeBook([])


def check(lines: list[Line], reader: Reader, load: Load) -> None:
    """Brings the lines into recording order, and reports what is wrong with them together."""
    _Together(lines, reader, load).check()


class _Together:
    """The lines, and the histories of those tools that have something to be checked."""

    def __init__(self, lines: list[Line], reader: Reader, load: Load) -> None:
        lines.sort(key=lambda line: line.fact.id)  # file order where there are no numbers
        self.lines, self.reader, self.load = lines, reader, load
        starts = Counter(line.fact.tool for line in lines if line.fact.kind == "starting_state")
        self.twice_started = {tool for tool, count in starts.items() if count > 1}
        self.changed = {line.fact.tool for line in lines if line.fact.kind == "release_system"}
        self.inserts = {line.fact.tool for line in lines if line.fact.kind in INSERT_KINDS}
        self.named = [line for line in lines if line.fact.surface not in (None, line.fact.tool)]
        wanted = self.twice_started | self.changed | self.inserts | {line.fact.tool for line in self.named}
        ours = sorted((line for line in lines if line.fact.tool in wanted), key=lambda line: str(line.fact.tool))
        self.logs = {tool: [line.fact for line in log] for tool, log in groupby(ours, key=lambda line: line.fact.tool)}
        self.rows = {id(line.fact): line.row for line in ours}

    def check(self) -> None:
        """All rules, one after the other."""
        self._check_numbers()
        self._check_targets()
        for tool in self.twice_started:
            self._check_starts(tool)
        for tool in self.inserts:
            self._check_molds(tool)
        for tool in self.changed:
            self._check_systems(tool)
        for line in self.named:
            self._check_surface(line.fact)

    def _wrong(self, row: int, column: str, message: str) -> None:
        self.load.report.wrong(_NAME, row, column, message)

    def _in_doubt(self, tool: Any, *kinds: str) -> bool:
        """Whether a row that cannot be placed might change the answer; without numbers none makes another void."""
        voiding = (VOID,) if self.reader.numbers.rows else ()
        return self.reader.doubts.about(tool, *kinds, *voiding)

    def _refuse(self, fact: Fact, refusal: Refusal) -> None:
        self._wrong(self.rows[id(fact)], refusal.field, refused(refusal).message)

    def _check_numbers(self) -> None:
        if self.reader.numbers.rows and self.load.is_empty:
            for row in self.reader.numbers.without:
                self._wrong(row, "number", _("Where one row has a number, each needs one."))

    def _check_targets(self) -> None:
        """An entry is made void or replaced once, by a later one of its own tool."""
        aimed = {_target(line.fact) for line in self.lines} - {None}
        facts = {line.fact.id: line.fact for line in self.lines if line.fact.id in aimed}
        takers: dict[int, Fact] = {}
        for line in self.lines:
            aim = _target(line.fact)
            if aim is None or aim in self.reader.numbers.lost:
                continue
            target = facts.get(aim) if self.reader.numbers.rows and aim < line.fact.id else None
            if target is None and not self.reader.numbers.is_sure:
                continue
            try:
                check_target(line.fact, target, [takers[aim]] if aim in takers else [])
            except Refusal as refusal:
                self._wrong(line.row, refusal.field, refused(refusal).message)
            else:
                takers[aim] = line.fact

    def _check_starts(self, tool: Any) -> None:
        if self._in_doubt(tool):
            return
        standing = [fact for _at, _root, fact in effective(self.logs[tool]) if fact.kind == "starting_state"]
        for fact in sorted(standing, key=attrgetter("id"))[1:]:
            self._refuse(fact, Refusal("second_start", "entry"))

    def _check_molds(self, tool: Any) -> None:
        if self._in_doubt(tool, "removed"):
            return
        placed = effective(self.logs[tool])
        while True:
            try:
                stays(placed)
                return
            except TwoMolds as two:
                self._refuse(two.entry, Refusal("two_molds", "mold", other=str(two.other)))
                placed = [one for one in placed if one[2] is not two.entry]

    def _check_systems(self, tool: Any) -> None:
        named = self.reader.tools.find(tool)
        if named is None or self._in_doubt(tool, *_SYSTEM_KINDS):
            return
        log = self.logs[tool]
        for fact in [fact for fact in log if fact.kind == "release_system" and fact.release_system]:
            views = (self._in_force(view, fact, named.system) for view in (log, _until(log, fact)))
            refusals = [_refusal(check_other_system, fact, code) for code in views]
            if all(refusals):
                self._refuse(fact, refusals[0])  # type: ignore[arg-type]

    def _in_force(self, log: Sequence[Fact], fact: Fact, system: str | None) -> str | None:
        """The recipe in force at the fact's place; None where the fact itself is void by then."""
        before: list[Placed] = []
        for one in effective(log):
            if one[2] is fact:
                return fold(before, fact.tool, system, _NO_RECIPES, self.load.frame.zone).state.system
            if one[2].kind in _SYSTEM_KINDS and (one[2].release_system or one[2].kind != "release_system"):
                before.append(one)
        return None

    def _check_surface(self, fact: Fact) -> None:
        insert = str(fact.surface)
        if self._in_doubt(insert, "installed") or self._in_doubt(fact.tool, "lay_up"):
            return
        mold, of_insert = self.logs[fact.tool], self.logs.get(insert, [])
        views = (mold, of_insert), (_until(mold, fact), _until(of_insert, fact))
        refusals = [_refusal(check_surface, fact, [insert] if self._reaches(fact, *view) else []) for view in views]
        if all(refusals):
            self._refuse(fact, refusals[0])  # type: ignore[arg-type]

    def _reaches(self, fact: Fact, mold: Sequence[Fact], insert: Sequence[Fact]) -> bool:
        """Whether a use of the mold reaches the insert that it names. A void one is not judged."""
        standing = effective(mold)
        if not any(one[2] is fact for one in standing):
            return True
        if fact.kind not in USE_KINDS:
            return False
        instants = next(use.instants for use in uses(standing) if use.placed[2] is fact)
        try:
            return self._was_in(fact, insert, instants)
        except TwoMolds:  # said at the installation
            return True

    def _was_in(self, fact: Fact, insert: Sequence[Fact], instants: Iterable[Any]) -> bool:
        if insert:
            return reached(stays(effective(insert)), fact.tool, instants)
        mold, named = self.reader.tools.find(str(fact.tool)), self.reader.tools.find(str(fact.surface))
        if mold is None or named is None or mold.pk is None or named.pk is None:
            return False
        return reached(self._stays_in_shop(named.pk), mold.pk, instants)

    def _stays_in_shop(self, insert: int) -> list[Stay]:
        return History(_NO_RECIPES, self.load.frame.zone).stays(insert)


def _target(fact: Fact) -> int | None:
    return fact.voids if fact.kind == VOID else fact.replaces


def _until(log: Iterable[Fact], fact: Fact) -> list[Fact]:
    """What had been recorded when the fact was."""
    return [one for one in log if one.id <= fact.id]


def _refusal(check: Any, fact: Fact, *asked: Any) -> Refusal | None:
    try:
        check(fact, *asked)
    except Refusal as refusal:
        return refusal
    return None
