"""One entry as it is typed on a command line: the words and cells of the sheet `history`, written by the ledger."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc.entry import VOID
from tooling.models import Entry, Person, Place, Shop, Tool
from tooling.services.ledger import record
from tooling.services.sheets.cells import Frame, folded, is_blank
from tooling.services.sheets.history import SHEET
from tooling.services.sheets.history_rows import RECORDED

_COLUMNS = {column.name: column for column in SHEET.columns}
# All but those that are said in words of their own, and those that only an export writes
_TYPED = tuple(name for name in _COLUMNS if name not in {"tool", "entry", "at", "by", *RECORDED})


@transaction.atomic
def log_entry(tool: str, entry: str, *, at: str = "", by: str = "", cells: Mapping[str, str]) -> Entry:
    """Writes one entry by the code of its tool; `cells` are columns of the sheet as typed. Refused leaves nothing.

    Order: read the words; find tool, places and people, an unknown one of whom is made; then as any deed.
    """
    frame = Frame(Shop.current().zone)
    kind = folded(entry)
    if kind == VOID:
        raise Refused(_("An entry is voided on the page of its tool, where it is seen."), "entry")
    said = _facts(kind, cells, frame)
    who = _read("by", by, frame)
    found = _tool(_read("tool", tool, frame) or "")
    return record(found, kind, at=_read("at", at, frame), by=_person(who) if who else None, recorded_by=None, **said)


def _facts(kind: str, cells: Mapping[str, str], frame: Frame) -> dict[str, Any]:
    """What the entry says, as a deed would say it."""
    for column in cells:
        if column not in _TYPED:
            choices = {"column": column, "choices": ", ".join(_TYPED)}
            raise Refused(_("There is no column %(column)s to set. One of: %(choices)s.") % choices)
    said = {name: _read(name, cell, frame) for name, cell in cells.items()}
    for name, find in (("mold", _tool), ("surface", _tool), ("place", _place)):
        if said.get(name) is not None:
            said[name] = find(said[name])
    if kind == "coat" and said.get("reason"):
        said["reason"] = folded(said["reason"])
    return said


def _read(column: str, typed: str, frame: Frame) -> Any:
    """What a cell means; None for an empty one."""
    if is_blank(typed):
        return None
    try:
        return _COLUMNS[column].kind.read(typed, frame)
    except Refused as refused:
        raise Refused(f"{column}: {refused.message}", column) from refused


def _tool(code: str) -> Tool:
    found = Tool.objects.called(code).first()
    if found is None:
        raise Refused(_("There is no tool %(code)s.") % {"code": code}, "tool")
    return found


def _place(code: str) -> Place:
    found = Place.objects.called(code).first()
    if found is None:
        raise Refused(_("There is no place %(code)s.") % {"code": code}, "place")
    return found


def _person(name: str) -> Person:
    try:
        return Person.objects.named(name)
    except ValidationError as wrong:
        raise Refused(" ".join(wrong.messages), "by") from wrong
