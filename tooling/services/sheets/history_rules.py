"""What can be seen of the rows of a history only together. They may stand in any order.

A row is wrong where the ledger would have refused it at its turn, and would refuse it still when all rows are there. So
neither a sheet that is out of order nor the export of a shop where an entry was made void since is found at fault.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime
from itertools import groupby
from operator import attrgetter
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.check import Refusal, check_other_system, check_surface, check_target
from tooling.calc.entry import INSERT_KINDS, VOID
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
        self._instants: dict[Any, dict[int, tuple[datetime, ...]]] = {}
        self._stays: dict[str, list[Stay] | None] = {}

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
        if self._in_doubt(tool, *_SYSTEM_KINDS):
            return
        log = self.logs[tool]
        in_force = self._in_force(log)
        for fact in [fact for fact in log if fact.kind == "release_system" and fact.release_system]:
            refusal = _refusal(check_other_system, fact, in_force.get(id(fact)))
            if refusal is not None:
                then = self._in_force(_until(log, fact)).get(id(fact))
                if _refusal(check_other_system, fact, then) is not None:
                    self._refuse(fact, refusal)

    def _in_force(self, log: Sequence[Fact]) -> dict[int, str | None]:
        """For each change of recipe that stands, the recipe in force at its place."""
        named = self.reader.tools.find(str(log[0].tool))
        system = named.system if named is not None else None
        before: list[Placed] = []
        found: dict[int, str | None] = {}
        for one in effective(log):
            fact = one[2]
            if fact.kind == "release_system":
                found[id(fact)] = fold(before, fact.tool, system, _NO_RECIPES, self.load.frame.zone).state.system
            if fact.kind in _SYSTEM_KINDS and (fact.release_system or fact.kind != "release_system"):
                before.append(one)
        return found

    def _check_surface(self, fact: Fact) -> None:
        mold, insert = fact.tool, str(fact.surface)
        if self._in_doubt(insert, "installed") or self._in_doubt(mold, "lay_up"):
            return
        if mold not in self._instants:
            self._instants[mold] = _instants(self.logs[mold])
        if insert not in self._stays:
            self._stays[insert] = self._times_of(insert, self.logs.get(insert, []))
        refusal = _surface_refusal(fact, self._instants[mold], self._stays[insert])
        if refusal is not None:
            times = self._times_of(insert, _until(self.logs.get(insert, []), fact))
            if _surface_refusal(fact, _instants(_until(self.logs[mold], fact)), times) is not None:
                self._refuse(fact, refusal)

    def _times_of(self, insert: str, log: Sequence[Fact]) -> list[Stay] | None:
        """An insert's times in molds, by codes; None where they cannot be told, which is said elsewhere."""
        named = self.reader.tools.find(insert)
        if named is not None and named.has_history and named.pk is not None:
            code = {one.pk: one.code for one in self.reader.tools.named.values()}
            times = History(_NO_RECIPES, self.load.frame.zone).stays(named.pk)
            return [Stay(code[one.mold], one.since, one.until) for one in times]  # type: ignore[index]
        try:
            return stays(effective(log))
        except TwoMolds:
            return None


def _instants(log: Sequence[Fact]) -> dict[int, tuple[datetime, ...]]:
    """For each entry that stands, the instants at which it reaches inserts: none where it is no use."""
    standing = effective(log)
    found: dict[int, tuple[datetime, ...]] = {id(one[2]): () for one in standing}
    found.update({id(use.placed[2]): use.instants for use in uses(standing)})
    return found


def _surface_refusal(
    fact: Fact, instants: dict[int, tuple[datetime, ...]], times: Sequence[Stay] | None
) -> Refusal | None:
    """Why an entry cannot name its surface. A void one is not judged."""
    if times is None or id(fact) not in instants:
        return None
    is_in = reached(times, fact.tool, instants[id(fact)])
    return _refusal(check_surface, fact, [fact.surface] if is_in else [])


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
