"""The sheet `checklists`: what is looked at on tools of each kind, all versions, one row a line."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from itertools import count
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Checklist, ChecklistItem, Kind, Person, Purpose
from tooling.services.checklist_rules import LONGEST, MOST_ITEMS, MOST_SPOTS, wrong_with
from tooling.services.sheets import cells
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, note

_NAME = "checklists"
Version = tuple[str, str, int]


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    there = {_key(row): row for row in _give()} if read else {}
    lists = {key[:2] for key, _item in there}
    taken: dict[Version, list[dict[str, Any]]] = {}
    met: dict[Any, int] = {}
    for row in read:
        says = full(SHEET, row)
        _check_line(row, says)
        if not row.wrong:
            _check_once(row, says, met, load)
        if not row.wrong and (says["kind"], says["purpose"]) in lists:
            _check_there(row, says, there, load)
        elif not row.wrong:
            taken.setdefault(_version(says), []).append(says)
            _check_version(row, says, taken, load)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _version(says: Mapping[str, Any]) -> Version:
    return says["kind"], says["purpose"], says["version"]


def _key(says: Mapping[str, Any]) -> tuple[Version, str]:
    """What makes two rows the same."""
    return _version(says), says["item"].upper()


def _check_line(row: Row, says: dict[str, Any]) -> None:
    """A row without a line says that nothing is asked in that version."""
    said = {"words": says["item"], **{name: says[name] for name in ("quantity", "unit", "geometry", "spots")}}
    for column, sentence in wrong_with(said).items():
        if column != "words":
            row.wrong.setdefault(column, sentence)


def _check_once(row: Row, says: dict[str, Any], met: dict[Any, int], load: Load) -> None:
    first = met.setdefault(_key(says), row.number)
    if first != row.number:
        message = _("%(code)s stands in row %(row)s already.")
        row.wrong["item"] = message % {"code": says["item"], "row": load.row_said(_NAME, first)}


def _check_there(row: Row, says: dict[str, Any], there: dict[tuple[Version, str], dict[str, Any]], load: Load) -> None:
    stands = there.get(_key(says))
    if stands is None:
        row.wrong["item"] = _("This checklist is in the shop already. Change it on its page, from now on.")
        return
    for name in ("valid_from", "order"):
        says[name] = says[name] if says[name] is not None else stands[name]
    if differs := already_there(SHEET, stands["item"], stands, says, load):
        row.wrong["item"] = differs


def _check_version(row: Row, says: dict[str, Any], taken: dict[Version, list[dict[str, Any]]], load: Load) -> None:
    """The lines of one version agree on when it begins and who made it; a later one begins no earlier."""
    lines = taken[_version(says)]
    begins = _begins(says, load)
    if _begins(lines[0], load) != begins or lines[0]["made_by"] != says["made_by"]:
        row.wrong["version"] = _("All lines of one version have the same valid_from and made_by.")
    elif len(lines) > 1 and not (says["item"] and lines[0]["item"]):
        row.wrong["item"] = _("A version in which nothing is asked is one row. Say what is looked at, or take it out.")
    elif len(lines) > MOST_ITEMS:
        row.wrong["item"] = _("That is more than %(most)d lines: put some of them together.") % {"most": MOST_ITEMS}
    for (kind, purpose, version), of in taken.items():
        other = (kind, purpose) == (says["kind"], says["purpose"]) and version != says["version"]
        earlier, later = sorted([(version, _begins(of[0], load)), (says["version"], begins)])
        if other and later[1] < earlier[1]:
            row.wrong["valid_from"] = _("A later version begins no earlier than the one before it.")


def _begins(says: Mapping[str, Any], load: Load) -> datetime:
    return says["valid_from"] or load.now


def _write(load: Load) -> int:
    taken: dict[Version, list[dict[str, Any]]] = load.kept.pop(_NAME, {})
    written = 0
    for (kind, purpose, version), lines in sorted(taken.items()):
        by = Person.objects.named(lines[0]["made_by"]) if lines[0]["made_by"] else None
        made = Checklist.objects.create(
            kind=kind, purpose=purpose, version=version, valid_from=_begins(lines[0], load), made_by=by
        )
        behind = count(max((one["order"] for one in lines if one["order"]), default=0) + 1)
        ordered = sorted(lines, key=lambda one: one["order"] if one["order"] is not None else next(behind))
        ChecklistItem.objects.bulk_create(
            ChecklistItem(
                checklist=made, order=order, words=one["item"], quantity=one["quantity"], unit=one["unit"],
                geometry=one["geometry"], spots=one["spots"],
            )
            for order, one in enumerate((one for one in ordered if one["item"]), 1)
        )  # fmt: skip
        written += len(lines)
    return written


_NOTHING = ChecklistItem(words="")


def _give() -> Iterator[dict[str, Any]]:
    versions = Checklist.objects.select_related("made_by").prefetch_related("items")
    # Sorted here: two databases have two orders of letters.
    for one in sorted(versions, key=lambda one: (one.kind, one.purpose, one.version)):
        for item in list(one.items.all()) or [_NOTHING]:
            yield {
                "kind": one.kind,
                "purpose": one.purpose,
                "version": one.version,
                "valid_from": one.valid_from,
                "order": item.order,
                "item": item.words,
                **{name: getattr(item, name) for name in ("quantity", "unit", "geometry", "spots")},
                "made_by": one.made_by.name if one.made_by else None,
            }


_COLUMNS = (
    Column("kind", cells.word(*Kind.values, mold_insert=Kind.INSERT.value), needed=True),
    Column("purpose", cells.word(*Purpose.values), empty=Purpose.LOOK_OVER.value),
    Column("version", cells.whole(1), empty=1),
    Column("valid_from", cells.INSTANT),
    Column("order", cells.whole(1)),
    Column("item", cells.name(LONGEST["words"]), empty=""),
    Column("quantity", cells.name(LONGEST["quantity"]), empty=""),
    Column("unit", cells.name(LONGEST["unit"]), empty=""),
    Column("geometry", cells.name(LONGEST["geometry"]), empty=""),
    Column("spots", cells.whole(1, MOST_SPOTS), empty=1),
    Column("made_by", cells.name(80)),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
