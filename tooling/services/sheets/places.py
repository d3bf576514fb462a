"""The sheet `places`: racks, shelves and rooms, as a tree."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Place, PlaceAlias, PlaceKind
from tooling.services.sheets import as_typed, cells
from tooling.services.sheets.loops import Ties
from tooling.services.sheets.table import Codes, Column, Load, Row, Sheet, already_there, full, no_such, note

_NAME = "places"


@dataclass
class _Taken:
    codes: Codes
    rows: list[dict[str, Any]] = field(default_factory=list)


def codes(load: Load) -> Codes:
    """The places that a cell may name."""
    taken: _Taken = load.kept[_NAME]
    taken.codes.is_unread = _NAME in load.unread
    return taken.codes


def keys() -> dict[str, int]:
    """The primary keys of the shop's places by code."""
    return dict(Place.objects.values_list("code", "pk"))


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {row["code"]: row for row in _give()}
    taken = _Taken(Codes(there))
    read = list(rows)
    owners = _owners()
    seen: dict[str, int] = {}
    for row in read:
        code = row.typed("code")
        taken.codes.add(code)
        first = seen.setdefault(code, row.number)
        if code and first != row.number:
            row.wrong.setdefault(
                "code", _("This code stands in row %(row)s already.") % {"row": load.row_said(_NAME, first)}
            )
        _claim(row, owners)
    ties = Ties({code: row["parent"] for code, row in there.items()})
    for row in read:
        _check_parent(row, taken.codes, ties)
        wanted = full(SHEET, row)
        if not row.wrong and wanted["code"] not in there:
            taken.rows.append(wanted)
        elif not row.wrong and (differs := already_there(SHEET, wanted["code"], there[wanted["code"]], wanted, load)):
            row.wrong["code"] = differs
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _owners() -> dict[str, str]:
    """Every code of the shop's places, older ones too, with the code of the place that has it now."""
    old = PlaceAlias.objects.values_list("code", "place__code")
    return {**{code: code for code in keys()}, **dict(old)}


def _claim(row: Row, owners: dict[str, str]) -> None:
    """Each code, older ones too, belongs to one place."""
    own = row.typed("code")
    for column, codes_ in (("code", [own]), ("aliases", row.values.get("aliases", ()))):
        for code in filter(None, codes_):
            other = owners.setdefault(code, own)
            if other != own:
                what = {"code": code, "other": other}
                row.wrong.setdefault(column, _("%(code)s is or was the code of the place %(other)s.") % what)


def _check_parent(row: Row, codes: Codes, ties: Ties) -> None:
    parent = row.values.get("parent")
    if parent is None:
        return
    if parent not in codes:
        row.wrong.setdefault("parent", no_such(_("place"), parent))
    elif "code" not in row.wrong and not ties.tie(row.values["code"], parent):
        row.wrong.setdefault("parent", _("A place cannot lie within itself, nor within one that lies in it."))


def _write(load: Load) -> int:
    taken: _Taken = load.kept[_NAME]
    columns = ("code", "name", "kind", "height_mm", "max_load_kg")
    places = [Place(**{name: row[name] for name in columns}, as_typed=as_typed.still(row)) for row in taken.rows]
    Place.objects.bulk_create(places, batch_size=500)
    key = keys()
    held = []
    for place, row in zip(places, taken.rows, strict=True):
        if row["parent"]:
            place.parent_id = key[row["parent"]]
            held.append(place)
    Place.objects.bulk_update(held, ["parent"], batch_size=200)
    old = [PlaceAlias(code=code, place_id=key[row["code"]]) for row in taken.rows for code in row["aliases"]]
    PlaceAlias.objects.bulk_create(old, batch_size=500)
    return len(places)


def _give() -> Iterator[dict[str, Any]]:
    # sorted here: two databases have two orders of letters
    for place in sorted(Place.objects.select_related("parent").prefetch_related("aliases"), key=attrgetter("code")):
        yield {
            "code": place.code,
            "aliases": tuple(sorted(alias.code for alias in place.aliases.all())),
            "name": place.name,
            "kind": place.kind,
            "parent": place.parent.code if place.parent else None,
            "height_mm": place.height_mm,
            "max_load_kg": place.max_load_kg,
            "as_typed": place.as_typed,
        }


_SORTED_CODES = cells.Kind(
    lambda cell, frame: tuple(sorted(cells.listed(cells.CODE).read(cell, frame))), cells.listed(cells.CODE).write
)
_COLUMNS = (
    Column("code", cells.CODE, needed=True),
    Column("aliases", _SORTED_CODES, empty=()),
    Column("name", cells.name(200), needed=True),
    Column("kind", cells.word(*PlaceKind.values), empty=""),
    Column("parent", cells.REFERENCE),
    Column("height_mm", cells.number(0)),
    Column("max_load_kg", cells.number(0)),
    as_typed.column(("height_mm", "max_load_kg")),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
