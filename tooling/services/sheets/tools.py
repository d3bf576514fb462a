"""The sheet `tools`: plugs, molds, mold inserts and trim masks, as they were at the start of their histories."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Hand, Kind, Summary, Tool, ToolAlias
from tooling.services.sheets import as_typed, cells, places, release_systems
from tooling.services.sheets.loops import Ties
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note
from tooling.services.ties import LOOPS

_NAME = "tools"


@dataclass(frozen=True, slots=True)
class Named:
    """A tool that a cell may name. What a wrong row says of it is not known: then `kind` is ""."""

    code: str
    kind: str
    system: str | None = None
    pk: int | None = None
    has_history: bool = False


@dataclass
class Taken:
    """The tools of the shop and of the sheet, by every code that they have or had."""

    named: dict[str, Named] = field(default_factory=dict)
    rows: list[dict[str, Any]] = field(default_factory=list)
    is_unread: bool = False

    def find(self, code: str) -> Named | None:
        """The tool of that code or older code; one of unknown kind where the sheet could not be read."""
        return self.named.get(code) or (Named(code, "") if self.is_unread else None)


def taken(load: Load) -> Taken:
    """The tools that a cell may name."""
    result: Taken = load.kept[_NAME]
    result.is_unread = _NAME in load.unread
    return result


def _take(rows: Iterable[Row], load: Load) -> None:
    result = _of_the_shop()
    there = {row["code"]: row for row in _give()}
    read = list(rows)
    owners = dict.fromkeys(result.named, 0)
    for row in read:
        _claim(row, result, owners, there, load)
    ties = {tie: Ties({code: row[tie] for code, row in there.items()}) for tie in LOOPS}
    for row in read:
        _check_references(row, result, load, ties)
        wanted = full(SHEET, row)
        if not row.wrong and wanted["code"] not in there:
            result.rows.append(wanted)
        elif not row.wrong and (differs := already_there(SHEET, wanted["code"], there[wanted["code"]], wanted, load)):
            row.wrong["code"] = differs
        note(_NAME, row, load.report)
    load.kept[_NAME] = result


def _of_the_shop() -> Taken:
    result = Taken()
    rows = Tool.objects.values_list("pk", "code", "kind", "release_system__code", "summary__count")
    by_key = {pk: Named(code, kind, system, pk, bool(count)) for pk, code, kind, system, count in rows}
    for pk, old in ToolAlias.objects.values_list("tool_id", "code"):
        result.named[old] = by_key[pk]
    result.named.update({one.code: one for one in by_key.values()})
    return result


def _claim(row: Row, result: Taken, owners: dict[str, int], there: dict[str, dict[str, Any]], load: Load) -> None:
    """Each code belongs to one tool. `owners` has the row that took it first; row 0 is the shop."""
    code = row.typed("code")
    if not code:
        return
    taken_by = owners.get(code)
    if taken_by is not None and not (taken_by == 0 and code in there):
        row.wrong.setdefault("code", _in_use(code, taken_by, result, load))
        return
    owners[code] = row.number
    kind = row.values.get("kind", "")
    if code not in result.named:
        result.named[code] = Named(code, kind, row.values.get("release_system"))
    for old in row.values.get("aliases", ()):
        taken_by = owners.get(old)
        is_own = old in result.named and result.named[old].code == code
        if taken_by is not None and not is_own:
            row.wrong.setdefault("aliases", _in_use(old, taken_by, result, load))
        else:
            owners[old] = row.number
            result.named.setdefault(old, result.named[code])


def _in_use(code: str, row: int, result: Taken, load: Load) -> str:
    if row:
        return _("%(code)s stands in row %(row)s already.") % {"code": code, "row": load.row_said(_NAME, row)}
    return _("%(code)s is or was the code of the tool %(other)s.") % {"code": code, "other": result.named[code].code}


def _check_references(row: Row, result: Taken, load: Load, ties: Mapping[str, Ties]) -> None:
    values = row.values
    if values.get("release_system", "") and values["release_system"] not in release_systems.codes(load):
        row.wrong.setdefault("release_system", no_such(_("release recipe"), values["release_system"]))
    if values.get("place", "") and values["place"] not in places.codes(load):
        row.wrong.setdefault("place", no_such(_("place"), values["place"]))
    for tie in LOOPS:
        if values.get(tie):
            _check_tie(row, tie, result, ties[tie])


def _check_tie(row: Row, tie: str, result: Taken, ties: Ties) -> None:
    other = result.find(row.values[tie])
    if other is None:
        row.wrong.setdefault(tie, no_such(_("tool"), row.values[tie]))
        return
    row.values[tie] = other.code
    if "code" not in row.wrong and not ties.tie(row.values["code"], other.code):
        row.wrong.setdefault(tie, str(LOOPS[tie]))


def _write(load: Load) -> int:
    rows = taken(load).rows
    place, system = places.keys(), release_systems.keys()
    tools = []
    for row in rows:
        values = {name: row[name] for name in row if name not in _REFERENCES}
        tool = Tool(**{**values, as_typed.NAME: as_typed.still(row)})
        tool.place_id = place[row["place"]] if row["place"] else None
        tool.release_system_id = system[row["release_system"]] if row["release_system"] else None
        tools.append(tool)
    Tool.objects.bulk_create(tools, batch_size=30)
    _write_ties(rows, tools)
    summaries = [Summary(tool=tool, home_id=tool.place_id, making=tool.in_making) for tool in tools]
    Summary.objects.bulk_create(summaries, batch_size=30)
    load.touched.update(tool.pk for tool in tools)
    return len(tools)


def _write_ties(rows: list[dict[str, Any]], tools: list[Tool]) -> None:
    key = dict(Tool.objects.values_list("code", "pk"))
    for tie in LOOPS:
        tied = []
        for tool, row in zip(tools, rows, strict=True):
            if row[tie]:
                setattr(tool, f"{tie}_id", key[row[tie]])
                tied.append(tool)
        Tool.objects.bulk_update(tied, [tie], batch_size=200)
    old = [ToolAlias(code=code, tool=tool) for tool, row in zip(tools, rows, strict=True) for code in row["aliases"]]
    ToolAlias.objects.bulk_create(old, batch_size=200)


def _give() -> Iterator[dict[str, Any]]:
    tools = Tool.objects.select_related("place", "release_system", *LOOPS).prefetch_related("aliases")
    # sorted here: two databases have two orders of letters
    for tool in sorted(tools, key=attrgetter("code")):
        row = {column.name: getattr(tool, column.name) for column in _COLUMNS if column.name not in _REFERENCES}
        yield {
            **row,
            "aliases": tuple(sorted(alias.code for alias in tool.aliases.all())),
            "release_system": tool.release_system.code if tool.release_system else None,
            "place": tool.place.code if tool.place else None,
            **{tie: other.code if (other := getattr(tool, tie)) else None for tie in LOOPS},
        }


_REFERENCES = ("aliases", "release_system", "place", *LOOPS)
_SORTED_ALIASES = cells.Kind(
    lambda cell, frame: tuple(sorted(cells.listed(cells.REFERENCE).read(cell, frame))),
    cells.listed(cells.REFERENCE).write,
)
_COLUMNS = (
    Column("code", cells.CODE, needed=True),
    Column("aliases", _SORTED_ALIASES, empty=()),
    Column("kind", cells.word(*Kind.values, mold_insert=Kind.INSERT.value), needed=True),
    Column("name", cells.name(200), needed=True),
    Column("release_system", cells.REFERENCE),
    Column("place", cells.REFERENCE),
    Column("made_from", cells.REFERENCE),
    Column("in_place_of", cells.REFERENCE),
    Column("matched_set", cells.name(80), empty=""),
    Column("hand", cells.word(*Hand.values), empty=""),
    Column("in_making", cells.YES_NO, empty=False),
    Column("owner", empty=""),
    Column("owner_ref", empty=""),
    Column("mass_kg", cells.number(0)),
    Column("lift", empty=""),
    Column("length_mm", cells.number(0)),
    Column("width_mm", cells.number(0)),
    Column("height_mm", cells.number(0)),
    Column("construction", empty=""),
    Column("max_service_c", cells.number()),
    Column("glass_transition_c", cells.number()),
    Column("built_on", cells.DATE),
    Column("not_before", cells.DATE),
    Column("inspect_every_pulls", cells.whole(1)),
    Column("inspect_every_days", cells.whole(1)),
    Column("design_ref", empty=""),
    Column("cost", cells.number(0)),
    Column("note", empty=""),
    as_typed.column(("mass_kg", "length_mm", "width_mm", "height_mm", "max_service_c", "glass_transition_c")),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
