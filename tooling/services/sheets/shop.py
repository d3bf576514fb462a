"""The sheet `shop`: one row, the shop itself."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from tooling.models import Shop
from tooling.services.sheets import cells
from tooling.services.sheets.table import Column, Load, Row, Sheet, note

_NAME = "shop"
# Where clocks are ahead of all others: with it no time that is right looks as if it lay in the future.
_EARLIEST = ZoneInfo("Etc/GMT-14")


def _take(rows: Iterable[Row], load: Load) -> None:
    taken: dict[str, Any] = {}
    for place, row in enumerate(rows):
        if place:
            row.wrong = {"name": _("A shop is one row. Take this one out.")}
        else:
            taken = row.values
            _check(row, load)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _check(row: Row, load: Load) -> None:
    current = Shop.current()
    for name, value in row.values.items():
        if not load.is_empty and not _BY_NAME[name].says_same(getattr(current, name), value):
            message = _("The shop has another %(column)s. Change it there, or take the row out.")
            row.wrong.setdefault(name, message % {"column": name})
            continue
        setattr(current, name, value)
        try:
            Shop._meta.get_field(name).clean(value, current)  # type: ignore[union-attr]
        except ValidationError as refusal:
            row.wrong.setdefault(name, " ".join(refusal.messages))
    if not row.wrong:
        _check_together(row, current)
    if "time_zone" in row.wrong:
        load.frame = replace(load.frame, zone=_EARLIEST)
    elif "time_zone" in row.values:
        load.frame = replace(load.frame, zone=current.zone)


def _check_together(row: Row, shop: Shop) -> None:
    try:
        shop.clean()
    except ValidationError as refusal:
        row.wrong.update({name: " ".join(messages) for name, messages in refusal.message_dict.items()})


def _write(load: Load) -> int:
    shop, is_new = Shop.current(), not Shop.objects.exists()
    taken = load.kept[_NAME]
    changed = [name for name, value in taken.items() if not _BY_NAME[name].says_same(getattr(shop, name), value)]
    for name in changed:
        setattr(shop, name, taken[name])
    if shop.formal_records and shop.formal_since is None:
        # what was brought back before this shop was, is asked for no acceptance
        shop.formal_since = load.now
    if is_new or changed:
        shop.save()
    return int(bool(taken) and (is_new or bool(changed)))


def _give() -> Iterator[Mapping[str, Any]]:
    shop = Shop.current()
    yield {column.name: getattr(shop, column.name) for column in _COLUMNS}


_COLUMNS = (
    Column("name", cells.name(200)),
    Column("time_zone", cells.TEXT),
    Column("week", cells.TEXT),
    Column("closed_days", cells.TEXT),
    Column("hands", cells.whole(1)),
    Column("formal_records", cells.YES_NO),
    Column("formal_since", cells.INSTANT),
    Column("retention_years", cells.whole(0)),
    Column("backup_days", cells.whole(0)),
    Column("tag_address", cells.name(200)),
    Column("tag_address_at", cells.INSTANT),
    Column("tag_address_by", cells.name(80)),
)
_BY_NAME = {column.name: column for column in _COLUMNS}
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
