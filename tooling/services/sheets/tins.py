"""The sheet `tins`: which tin was open where, from when until when."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Person, Stuff, Tin
from tooling.models.people import name_key
from tooling.services.sheets import cells, release_systems
from tooling.services.sheets.table import Column, Load, Row, Sheet, full, no_such, note
from tooling.services.sheets.who_when import not_ahead

_NAME = "tins"
Key = tuple[Any, ...]


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    recipes = release_systems.codes(load)
    there = {_key(row) for row in _give()} if read else set()
    open_now = {_place(row) for row in _give() if row["closed_at"] is None} if read else set()
    taken = []
    for row in read:
        _check(row, load)
        system = row.values.get("release_system")
        if system is not None and system not in recipes:
            row.wrong.setdefault("release_system", no_such(_("release recipe"), system))
        wanted = full(SHEET, row)
        if not row.wrong and _key(wanted) not in there:
            _check_one_open(row, wanted, open_now)
            taken.append(wanted)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _check(row: Row, load: Load) -> None:
    opened, closed = row.values.get("opened_at"), row.values.get("closed_at")
    not_ahead(row, load, "opened_at", "closed_at")
    if opened is not None and closed is not None and closed < opened:
        row.wrong.setdefault("closed_at", _("It cannot be closed before it was opened."))


def _check_one_open(row: Row, wanted: dict[str, Any], open_now: set[Key]) -> None:
    if wanted["closed_at"] is not None:
        return
    if _place(wanted) in open_now:
        message = _("Another tin is open there already. Say when it was closed.")
        row.wrong.setdefault("closed_at", message)
    open_now.add(_place(wanted))


def _place(row: dict[str, Any]) -> Key:
    """Where one tin can be open."""
    return name_key(row["open_at"]), row["release_system"], row["stuff"]


def _key(row: dict[str, Any]) -> Key:
    """What makes two rows the same."""
    opened_by = name_key(row["opened_by"]) if row["opened_by"] else None
    times = [at.replace(microsecond=0) if at is not None else None for at in (row["opened_at"], row["closed_at"])]
    return *_place(row), row["lot"], row["expires_on"], opened_by, *times


def _write(load: Load) -> int:
    rows = load.kept.pop(_NAME, [])
    systems = release_systems.keys()
    tins = [
        Tin(
            holder=Person.objects.named(row["open_at"]),
            recipe_id=systems[row["release_system"]],
            opened_by=Person.objects.named(row["opened_by"]) if row["opened_by"] else None,
            **{name: row[name] for name in ("stuff", "lot", "expires_on", "opened_at", "closed_at")},
        )
        for row in rows
    ]
    Tin.objects.bulk_create(tins, batch_size=100)
    return len(tins)


def _give() -> Iterator[dict[str, Any]]:
    for tin in Tin.objects.select_related("holder", "recipe", "opened_by").order_by("opened_at", "pk"):
        yield {
            "open_at": tin.holder.name,
            "release_system": tin.recipe.code,
            "stuff": tin.stuff,
            "lot": tin.lot,
            "expires_on": tin.expires_on,
            "opened_at": tin.opened_at,
            "opened_by": tin.opened_by.name if tin.opened_by else None,
            "closed_at": tin.closed_at,
        }


_COLUMNS = (
    Column("open_at", cells.name(80), needed=True),
    Column("release_system", cells.REFERENCE, needed=True),
    Column("stuff", cells.word(*Stuff.values), needed=True),
    Column("lot", cells.name(200), needed=True),
    Column("expires_on", cells.DATE),
    Column("opened_at", cells.INSTANT, needed=True),
    Column("opened_by", cells.name(80)),
    Column("closed_at", cells.INSTANT),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
