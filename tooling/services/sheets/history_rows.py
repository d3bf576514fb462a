"""One row of the sheet `history`: what can be seen of it by itself."""

from dataclasses import dataclass, field
from datetime import datetime
from difflib import get_close_matches
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc.check import FUTURE, Refusal, check_alone
from tooling.calc.entry import KINDS, VOID
from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, Tool
from tooling.models.people import name_key
from tooling.services import entry_rules
from tooling.services.checks import check_kinds
from tooling.services.refusals import refused
from tooling.services.sheets import place_counts, places, release_systems, tools, wipes
from tooling.services.sheets.cells import folded
from tooling.services.sheets.table import Load, Row, no_such

# What only an export writes, and only an empty shop takes
RECORDED = ("number", "replaces", "voids", "recorded_at", "recorded_by", "counted", "lead_saw_at", "lead_saw_by")
# What the rules read of a row, by the same names
_RULED = (
    "count", "area", "came_off", "film", "part", "serial", "release_system", "earliest_pull", "cause", "tool_damaged",
    "passed", "prepared", "pulls_since_coat", "touch_ups", "total_pulls",
)  # fmt: skip
# What only one kind of entry says
_GIVEN_AWAY = {
    "mold": "installed", "release_system": "release_system", "prepared": "starting_state", "voids": VOID,
}  # fmt: skip


@dataclass(slots=True)
class Line:
    """A row whose tool, time and kind are known: as the rules read it, and what a deed would say.

    Tools are named by their codes. `said` has places and tools by code as well.
    """

    row: int
    fact: Fact
    said: dict[str, Any]
    by: str
    recorded_by: str
    lead_saw_at: datetime | None = None
    lead_saw_by: str = ""
    wiped: wipes.Wiped | None = None


@dataclass
class Doubts:
    """Rows that cannot be placed in a history, by tool ("" where nobody knows whose): of what kind they may be.

    What such a row might put right is not found wrong because of it.
    """

    kinds: dict[str, set[str]] = field(default_factory=dict)

    def add(self, tool: str, row: Row) -> None:
        """One that cannot be placed; where its kind cannot be read either, what it says gives it away."""
        kind = row.values.get("entry", "")
        guess = {kind} if kind in KINDS else set(_meant(kind))
        if kind not in KINDS:
            guess |= {one for column, one in _GIVEN_AWAY.items() if column in row.values} or {"removed"}
        self.kinds.setdefault(tool, set()).update(guess)

    def about(self, tool: str, *kinds: str) -> bool:
        """Whether one of them might be of one of these kinds, in the tool's history."""
        return any(not self.kinds.get(one, set()).isdisjoint(kinds) for one in (tool, ""))


@lru_cache(maxsize=1000)
def _meant(word: str) -> list[str]:
    """The kinds that a misspelled word may stand for."""
    return get_close_matches(word, KINDS) if len(word) < 40 else []


@dataclass
class Numbers:
    """The recording numbers of the rows. Where one row has one, each needs one."""

    rows: dict[int, int] = field(default_factory=dict)
    without: list[int] = field(default_factory=list)  # rows
    lost: set[int] = field(default_factory=set)  # numbers of rows that cannot be placed
    is_sure: bool = True

    def read(self, row: Row, load: Load) -> None:
        """Takes in the number of one row; of two rows with one number the later is wrong."""
        number = row.values.get("number")
        if number is None:
            self.is_sure = self.is_sure and "number" not in row.wrong
            if "number" not in row.wrong:
                self.without.append(row.number)
            return
        first = self.rows.setdefault(number, row.number)
        if first != row.number:
            row.wrong.setdefault(
                "number", _("This number stands in row %(row)s already.") % {"row": load.row_said("history", first)}
            )


class Reader:
    """Reads rows into lines, and notes what is wrong with each."""

    def __init__(self, load: Load) -> None:
        """Knows the tools, places and recipes of the shop and of the sheets before this one."""
        self.load = load
        self.tools = tools.taken(load)
        self.places = places.codes(load)
        self.systems = release_systems.codes(load)
        self.doubts = Doubts()
        self.numbers = Numbers()
        self.count = 0
        self._kinds: dict[tuple[str, str, str | None], Refused | None] = {}
        self._texts: dict[str, str] = {}

    def line(self, row: Row) -> Line | None:
        """The row as a line; None where nobody can say whose history it belongs to, or where in it."""
        self.count += 1
        tool = self._tool(row, "tool")
        mold, surface = self._tool(row, "mold"), self._tool(row, "surface")
        self._check_known(row)
        self._check_recorded(row)
        wipes.check(row, self.load)
        self.numbers.read(row, self.load)
        fact = self._fact(row, tool, mold, surface)
        if fact is None:
            self.doubts.add(tool.code if tool else "", row)
            self.numbers.lost.add(row.values.get("number", 0))
            return None
        self._check_alone(row, fact)
        self._check_kinds(row, fact, tool, mold)
        if row.wrong.keys() & {"mold", "voids", "replaces"} or fact.kind not in KINDS:
            self.doubts.add(str(fact.tool), row)
        return self._line(row, fact)

    def _tool(self, row: Row, column: str) -> tools.Named | None:
        code = row.values.get(column)
        if code is None:
            return None
        found = self.tools.find(code)
        if found is None:
            row.wrong.setdefault(column, no_such(_("tool"), code))
        return found

    def _check_known(self, row: Row) -> None:
        place, system = row.values.get("place"), row.values.get("release_system")
        if place is not None and place not in self.places:
            row.wrong.setdefault("place", no_such(_("place"), place))
        if "counted" in row.values and row.values["counted"] not in place_counts.numbers(self.load):
            row.wrong.setdefault("counted", no_such(_("count"), str(row.values["counted"])))
        if system is not None and system not in self.systems:
            row.wrong.setdefault("release_system", no_such(_("release recipe"), system))

    def _check_recorded(self, row: Row) -> None:
        values, wrong = row.values, row.wrong
        if not self.load.is_empty:
            for column in RECORDED:
                if column in values:
                    message = _("Only an empty shop takes this. Take the column out, or import into an empty shop.")
                    wrong.setdefault(column, message)
        recorded_at = values.get("recorded_at")
        if recorded_at is not None and recorded_at > self.load.now + FUTURE:
            wrong.setdefault("recorded_at", refused(Refusal("future")).message)
        self._check_told(row)
        is_void = values.get("entry") == VOID
        if is_void and "voids" not in values:
            wrong.setdefault("voids", _("Say which entry is void, by its number."))
        if not is_void and "voids" in values:
            wrong.setdefault("voids", _("Only an entry “void” makes another one void. Leave this empty here."))
        if is_void and "replaces" in values:
            wrong.setdefault("replaces", _("A void puts nothing in another entry's place. Leave this empty here."))

    def _check_told(self, row: Row) -> None:
        values, wrong = row.values, row.wrong
        if values.get("for_lead") and values.get("entry", "note") != "note":
            wrong.setdefault("for_lead", _("Only a note is told to the lead. Leave this empty here."))
        if bool(values.get("lead_saw_at")) != bool(values.get("lead_saw_by")):
            wrong.setdefault("lead_saw_at", _("When a lead saw it, and who, stand together."))
        elif values.get("lead_saw_at") and not values.get("for_lead"):
            wrong.setdefault("lead_saw_at", _("Only what was told to the lead is seen: write yes into for_lead."))

    def _fact(
        self, row: Row, tool: tools.Named | None, mold: tools.Named | None, surface: tools.Named | None
    ) -> Fact | None:
        values = row.values
        if tool is None or "at" not in values or "entry" not in values:
            return None
        said = {name: values[name] for name in _RULED if name in values}
        by = values.get("by")
        return Fact(
            id=values.get("number", self.count),
            tool=tool.code,
            kind=values["entry"],
            at=values["at"],
            recorded_at=values.get("recorded_at", self.load.now),
            mold=mold.code if mold else None,
            surface=surface.code if surface else None,
            by=name_key(by) if by else None,
            replaces=values.get("replaces"),
            voids=values.get("voids"),
            **said,
        )

    def _check_alone(self, row: Row, fact: Fact) -> None:
        reason = row.values.get("reason", "")
        if fact.kind == "coat" and reason:
            reason = row.values["reason"] = folded(reason)
        try:
            check_alone(fact, self.load.now, row.values.get("fault", ""), reason)
        except Refusal as refusal:
            row.wrong.setdefault(refusal.field, refused(refusal).message)
        for column, message in entry_rules.wrong_with(fact.kind, row.values, unread=row.wrong).items():
            row.wrong.setdefault(column, message)

    def _check_kinds(self, row: Row, fact: Fact, tool: tools.Named | None, mold: tools.Named | None) -> None:
        if tool is None or not tool.kind or "entry" in row.wrong:
            return
        if fact.kind == "release_system" and not fact.release_system:
            row.wrong.setdefault("release_system", _("Say which release recipe it has from now on."))
        if mold is not None and not mold.kind:
            return
        asked = fact.kind, tool.code, mold.code if mold else None
        if asked not in self._kinds:
            self._kinds[asked] = _kinds_refused(fact.kind, tool, mold)
        found = self._kinds[asked]
        if found is not None:
            row.wrong.setdefault(found.field, found.message)

    def _line(self, row: Row, fact: Fact) -> Line:
        columns = {"tool", "at", "entry", "by", wipes.AT, wipes.BY, *RECORDED} - {"counted"}
        said = {name: self._one(value) for name, value in row.values.items() if name not in columns}
        said.update({name: getattr(fact, name) for name in ("mold", "surface") if name in said})
        by, recorded_by = self._one(row.values.get("by", "")), self._one(row.values.get("recorded_by", ""))
        saw_by = self._one(row.values.get("lead_saw_by", ""))
        saw_at, wiped = row.values.get("lead_saw_at"), wipes.of_row(row)
        return Line(row.number, fact, said, by, recorded_by, saw_at, saw_by, wiped)

    def _one(self, value: Any) -> Any:
        """Of equal texts one is kept: a long sheet says the same words often."""
        return self._texts.setdefault(value, value) if isinstance(value, str) and len(value) < 40 else value


def _kinds_refused(kind: str, tool: tools.Named, mold: tools.Named | None) -> Refused | None:
    entry = Entry(kind=kind, tool=Tool(code=tool.code, kind=tool.kind))
    if mold is not None:
        entry.mold = Tool(code=mold.code, kind=mold.kind)
    try:
        check_kinds(entry)
    except Refused as found:
        return found
    return None
