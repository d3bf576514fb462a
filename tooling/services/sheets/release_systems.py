"""The sheet `release_systems`: the recipes, one row a version. What its cells mean stands in `recipe_columns`."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import RecipeVersion, ReleaseSystem
from tooling.models.recipes import COUNTS_FROM_NONE, COUNTS_FROM_ONE, TIMES, Family
from tooling.services import recipe_columns
from tooling.services.sheets import cells
from tooling.services.sheets.table import Codes, Column, Load, Row, Sheet, already_there, no_such, note

_NAME = "release_systems"
Key = tuple[str, datetime | None]


@dataclass
class _Taken:
    codes: Codes
    rows: list[dict[str, Any]] = field(default_factory=list)


def codes(load: Load) -> Codes:
    """The recipes that a cell may name."""
    taken: _Taken = load.kept[_NAME]
    taken.codes.is_unread = _NAME in load.unread
    return taken.codes


def keys() -> dict[str, int]:
    """The primary keys of the shop's recipes by code."""
    return dict(ReleaseSystem.objects.values_list("code", "pk"))


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {(row["code"], row["valid_from"]): row for row in _give()}
    old = {code for code, _from in there}
    taken = _Taken(Codes(old))
    read = list(rows)
    _check_keys(read, taken.codes, old, load)
    for row in read:
        wanted = _wanted(row, taken.codes)
        key = wanted["code"], wanted["valid_from"]
        if not row.wrong and key in there:
            if differs := already_there(SHEET, wanted["code"], there[key], wanted, load):
                row.wrong["code"] = differs
        elif not row.wrong and wanted["code"] in old:
            message = _("%(code)s is in the shop already. Change it on its page, from now on.")
            row.wrong["code"] = message % {"code": wanted["code"]}
        elif not row.wrong:
            taken.rows.append(wanted)
            _remark(row, wanted["family"], load)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _remark(row: Row, family: str, load: Load) -> None:
    """Says which break-in was taken where the sheet has no such column: only wax is usually broken in."""
    if "break_in" in row.cells or family == Family.PASTE_WAX:
        return
    taken = RecipeVersion().break_in
    message = _(
        "There is no column break_in, so it is %(taken)s: a coat after each of the first pulls. Add the column, and "
        "leave the cell empty, where this recipe has none."
    )
    load.report.remark(_NAME, row.number, "break_in", message % {"taken": taken})


def _check_keys(read: list[Row], codes: Codes, old: set[str], load: Load) -> None:
    """One row a code and moment, and for each code one from the beginning."""
    seen: dict[Key, int] = {}
    begun = set(old)
    for row in read:
        code, begins = row.typed("code"), row.values.get("valid_from")
        codes.add(code)
        if begins is None:  # or it cannot be read: then it is that row's fault alone
            begun.add(code)
        if not code or "valid_from" in row.wrong:
            continue
        first = seen.setdefault((code, begins), row.number)
        if first != row.number:
            message = _(
                "This code stands in row %(row)s already, from the same moment. A change has a later valid_from."
            )
            row.wrong.setdefault("code", message % {"row": load.row_said(_NAME, first)})
    for row in read:
        code = row.typed("code")
        if code and code not in begun:
            begun.add(code)
            row.wrong.setdefault(
                "valid_from", _("The first row of a recipe has this empty: it holds from the beginning.")
            )


def _wanted(row: Row, codes: Codes) -> dict[str, Any]:
    """The values of all columns; what is wrong with those of a recipe is added to the row."""
    understood = {name: row.values.get(name) for name in row.cells if name in recipe_columns.COLUMNS}
    values, errors = recipe_columns.read(understood)
    for column, message in errors.items():
        row.wrong.setdefault(column, message)
    for code in filter(None, values.get("accepts", "").split(",")):
        if code not in codes:
            row.wrong.setdefault("accepts", no_such(_("recipe"), code))
    return {"code": row.values.get("code"), "valid_from": row.values.get("valid_from"), **values}


def _write(load: Load) -> int:
    taken: _Taken = load.kept[_NAME]
    new = dict.fromkeys(row["code"] for row in taken.rows)
    made = ReleaseSystem.objects.bulk_create([ReleaseSystem(code=code) for code in new], batch_size=500)
    system = {one.code: one for one in made}
    versions = [
        RecipeVersion(system=system[row["code"]], **{name: row[name] for name in row if name != "code"})
        for row in taken.rows
    ]
    RecipeVersion.objects.bulk_create(versions, batch_size=20)
    return len(versions)


def _give() -> Iterator[Mapping[str, Any]]:
    versions = RecipeVersion.objects.select_related("system")
    # sorted here: two databases have two orders of letters
    for one in sorted(versions, key=lambda one: (one.system.code, one.valid_from is not None, one.valid_from)):
        row = {column.name: getattr(one, column.name) for column in _COLUMNS if column.name != "code"}
        yield {"code": one.system.code, **row}


def _shown(cell: Any, frame: cells.Frame) -> Any:
    """A cell for `recipe_columns` to understand; what a spreadsheet cannot show is refused here."""
    text = cells.shown(cell)
    return cell if isinstance(cell, bool | int | str) else text


def _number_or_typed(cell: Any, frame: cells.Frame) -> Any:
    return cells.shown(cell).replace(",", ".") if frame.decimal_comma else _shown(cell, frame)


_WORDS = cells.Kind(_shown, lambda value, frame: str(value))
_COUNT = cells.Kind(_number_or_typed, lambda value, frame: int(value))
_NUMBER = cells.Kind(_number_or_typed, cells.number().write)
_YES_NO = cells.Kind(_shown, cells.YES_NO.write)
_KINDS = {
    **dict.fromkeys((*COUNTS_FROM_ONE, *COUNTS_FROM_NONE), _COUNT),
    **dict.fromkeys((*TIMES, *recipe_columns.TEMPERATURES), _NUMBER),
    "film_every_pull": _YES_NO,
    "supplier_sheet": cells.TEXT,
}
_ORDER = (
    "name", "family", "sealer_coats", "coats_new", "coats_again", "break_in", "break_in_on", "pulls_between",
    "touch_up_coats", "max_touch_ups", "max_pulls_per_preparation", "max_idle_days", "strip_after_idle_days",
    "max_coat_age_days", "film_every_pull", "film_first_pulls", "film_dry_minutes", "film_good_hours",
    "coat_gap_minutes", "longest_gap_hours", "cure_hours_preparation", "cure_hours_touch_up", "touch_up_from",
    "strip_from", "hold_from", "accepts", "coat_minutes", "wipe_minutes", "film_minutes", "strip_minutes", "low_c",
    "reference_c", "high_c", "max_part_cure_c", "supplier_sheet",
)  # fmt: skip
_COLUMNS = (
    Column("code", cells.CODE, needed=True),
    Column("valid_from", cells.INSTANT),
    *(Column(name, _KINDS.get(name, _WORDS), needed=name in ("name", "family")) for name in _ORDER),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
