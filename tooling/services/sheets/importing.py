"""A shop's sheets, read, checked whole, and then written in one transaction or not at all."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.models import Entry, Part, Person, Place, ReleaseSystem, Shop, Tool
from tooling.services.seals import seal_if_new_day
from tooling.services.sheets.cells import Frame
from tooling.services.sheets.reading import Found, opened
from tooling.services.sheets.registry import PASSED_OVER, sheets
from tooling.services.sheets.report import Report
from tooling.services.sheets.table import Load, read_rows
from tooling.services.tools import relay


@dataclass(frozen=True, slots=True)
class Said:
    """How a row of a sheet, and a column, are called in a sentence."""

    row: Callable[[str, int], str]
    column: Callable[[str], str]


def import_shop(path: Path, *, dry_run: bool = False) -> Report:
    """Takes a workbook or folder into the shop, all or nothing; the report has every row that cannot be taken.

    Raises Refused, with nothing written, for a file that cannot be read at all.
    """
    with opened(path) as found:
        return import_sheets(found, dry_run=dry_run)


def import_sheets(
    found: list[Found],
    *,
    dry_run: bool = False,
    before_writing: Callable[[], None] | None = None,
    by: Person | None = None,
    said: Said | None = None,
    foresee: Callable[[Load], None] | None = None,
    foresee_most: int = 0,
) -> Report:
    """Takes sheets into the shop, all or nothing; the report has every row that cannot be taken.

    `by`: who brings it in, where that is known; `said`: how rows and columns are called in a sentence;
    `foresee` looks at what a dry run of at most `foresee_most` new rows would write, before it is taken back.

    Order: read and check every sheet; call `before_writing`, which may raise to leave it at that; then, in one
    transaction, the day's seal, the rows, chains, states and spans.
    """
    load = Load(Frame(Shop.current().zone), clock.now(), is_empty=shop_is_empty(), by=by)
    if said is not None:
        load.row_said, load.column_said = said.row, said.column
    _take(_by_name(found, load.report), load)
    report = load.report
    report.new = {name: _count(load.kept.get(name)) for name in report.read}
    report.written = dict.fromkeys(report.read, 0)
    if report.is_clean and not dry_run:
        if before_writing is not None:
            before_writing()
        try:
            _write(load)
        except IntegrityError as raced:
            raise Refused(_("Somebody wrote into the shop at this very moment. Try once more.")) from raced
    elif report.is_clean and foresee is not None and sum(report.new.values()) <= foresee_most:
        _foresee(load, foresee)
    return report


def _foresee(load: Load, foresee: Callable[[Load], None]) -> None:
    with transaction.atomic():
        _write(load)
        foresee(load)
        transaction.set_rollback(True)
    load.report.written = dict.fromkeys(load.report.read, 0)


def shop_is_empty() -> bool:
    """Whether nothing of a shop is there yet. People, and what the shop says of itself, may be."""
    return not any(model.objects.exists() for model in (Tool, Entry, Place, Part, ReleaseSystem))


def _by_name(found: list[Found], report: Report) -> dict[str, Found]:
    known = {sheet.name for sheet in sheets()}
    result: dict[str, Found] = {}
    for one in found:
        if one.name in PASSED_OVER:
            continue
        if one.name not in known:
            message = _("There is no sheet of this name: %(sheets)s, or “notes” for what is left alone.")
            report.wrong(one.title.strip(), 1, "", message % {"sheets": ", ".join(sheet.name for sheet in sheets())})
        elif one.name in result:
            report.wrong(one.name, 1, "", _("This sheet is there twice."))
        else:
            result[one.name] = one
    return result


def _take(found: dict[str, Found], load: Load) -> None:
    for sheet in sheets():
        one = found.get(sheet.name)
        if one is None:
            sheet.take(iter(()), load)
        else:
            frame = replace(load.frame, decimal_comma=one.decimal_comma)
            sheet.take(read_rows(sheet, one.lines(), frame, load), load)


def _count(kept: Any) -> int:
    """How many rows a sheet took: it keeps them as a list, beside what else it has to know, or is one row."""
    rows = kept[0] if isinstance(kept, tuple) else getattr(kept, "rows", kept)
    return len(rows) if isinstance(rows, list) else int(bool(rows))


@transaction.atomic
def _write(load: Load) -> None:
    seal_if_new_day(load.now)
    for sheet in sheets():
        written = sheet.write(load)
        if sheet.name in load.report.read:
            load.report.written[sheet.name] = written
    if load.touched:
        relay(load.touched)
