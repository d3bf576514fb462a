"""Defects are found, seen again, and come back: each time one entry, whose lines say so."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Unpack

from tooling.calc.defect_lines import FOUND, OPENED, DefectLine
from tooling.models import Entry, Picture, Tool
from tooling.services.deeds.base import Said
from tooling.services.defects import NEW, found_by, numbered, on_picture
from tooling.services.ledger import record
from tooling.services.trying import together, tried


def find_defect(
    tool: Tool,
    *,
    line: DefectLine,
    picture: Picture | None = None,
    stop: bool = False,
    reason: str = "",
    **said: Unpack[Said],
) -> Entry:
    """A defect that nobody knew of, under the next number. `stop`: it holds the tool, for that reason.

    Order: the entry with its line; which picture its place is on. The same form again gets the first answer again.
    """
    lines = numbered([replace(line, number=NEW, did=FOUND)])
    with together():
        if stop:
            entry = record(tool, "hold", reason=reason, defects=lines, **said)
        else:
            entry = record(tool, "note", defects=lines, **said)
        if tried() is None and picture is not None and line.x is not None:
            for number in found_by(entry):
                on_picture(entry, number, picture)
    return entry


def see_defects(tool: Tool, *, lines: Iterable[DefectLine], **said: Unpack[Said]) -> Entry:
    """How defects that are open are now; one that is gone is closed by it."""
    return record(tool, "note", defects=numbered(lines), **said)


def come_back(tool: Tool, *, line: DefectLine, **said: Unpack[Said]) -> Entry:
    """A defect that was closed is there again."""
    return record(tool, "note", defects=numbered([replace(line, did=OPENED)]), **said)
