"""The two jobs of moving in: try an upload, which writes nothing into the shop; bring it in, all or nothing."""

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared import clock
from shared.errors import Refused
from tooling.models import Job, MovingIn, Person
from tooling.services.jobs import Outcome, Progress, ask
from tooling.services.jobs.left import interrupt_if_left
from tooling.services.moving_in.called import column_called
from tooling.services.moving_in.files import marked_up
from tooling.services.moving_in.foreseen import MOST, Foreseen
from tooling.services.moving_in.joined import PLACE, Joined
from tooling.services.moving_in.matching import Match, matches, remember_words
from tooling.services.moving_in.said import said_of
from tooling.services.moving_in.tables import Theirs, Wrong, theirs
from tooling.services.moving_in.told import out_of, told
from tooling.services.sheets.importing import Said, import_sheets
from tooling.services.sheets.report import Report

_MOST_TIMES = 10
TRY, BRING_IN = "try_sheets", "bring_sheets_in"


def start(kind: str, moving: MovingIn, *, by: Person, at: datetime) -> Job:
    """Asks for one of the two jobs. Raises Refused while the other one is at the same upload, or where it is in."""
    with transaction.atomic():
        interrupt_if_left(at)
        moving = MovingIn.objects.select_for_update().get(pk=moving.pk)
        if moving.brought_in_at is not None:
            raise Refused(_("This was brought in already."))
        if moving.job is not None and moving.job.is_open and moving.job.kind != kind:
            raise Refused(_("Something else is being done with this upload. Wait until it has ended."))
        said = said_of(moving)
        if kind == BRING_IN and (moving.report or {}).get("said") != said:
            raise Refused(_("Something of it was changed after it was tried. Try it once more, then bring it in."))
        # With what was said in it, what is said while a try is at work is another try.
        moving.job = ask(kind, by=by, at=at, given={"moving": moving.pk, "said": said})
        moving.save(update_fields=["job"])
    return moving.job


def try_sheets(given: dict[str, Any], progress: Progress) -> Outcome:
    """Reads and checks all of an upload; keeps what was found, and a workbook to be mended where a row is wrong."""
    return Outcome(_run(given, progress, dry_run=True))


def bring_sheets_in(given: dict[str, Any], progress: Progress) -> Outcome:
    """Reads and checks it once more, and writes it in one transaction."""
    return Outcome(_run(given, progress, dry_run=False))


class _Count:
    """Tells how many rows were read; of how many, where an earlier try counted them."""

    def __init__(self, progress: Progress, of: int) -> None:
        self._progress, self._of = progress, of
        self.rows = 0

    def __call__(self) -> None:
        self.rows += 1
        if self.rows % 200 == 1:
            self._progress.say(self.rows, max(self._of, self.rows) if self._of else 0, _("Reading"))


def _run(given: dict[str, Any], progress: Progress, *, dry_run: bool) -> str:
    moving = MovingIn.objects.filter(pk=given["moving"]).first()
    if moving is None:
        raise Refused(_("This upload was dropped."))
    said_before = said_of(moving)
    if not dry_run and given.get("said") != said_before:
        raise Refused(_("Nothing was written: something of it was changed after it was tried. Try it once more."))
    count = _Count(progress, (moving.report or {}).get("seen", 0))
    with theirs(moving) as sheets:
        matched = matches(moving, sheets)
        _check_settled(matched)
        tried = _Tried(moving, sheets, matched, count)
        report, joined = tried.run(progress, dry_run=dry_run)
        if not joined.rows:
            raise Refused(_("There is no row in what was matched."))
        wrong = _wrong(report, joined)
        said = told(report, joined, matched, sheets, wrong, tried.out)
        _mark(moving, sheets, matched, merged(wrong, tried.out), progress)
    is_in = report.is_clean and not dry_run
    if dry_run:
        said = {**said, "tools": tried.foreseen.tools, "no_recipe": tried.foreseen.without_recipe()}
    _keep(moving, {**said, "seen": count.rows, "said": said_before}, is_in=is_in)
    if is_in:
        remember_words({(*PLACE, met.name): met.code for met in joined.places.new})
    if not dry_run and not report.is_clean:
        raise Refused(_("Nothing was written: something is wrong that was right when it was tried."))
    return _words(said, dry_run)


class _Tried:
    """An upload that is read, as often as it takes to leave out what is wrong where somebody said so.

    A row that is left out may make another one wrong. What is brought in leaves out what the try did and no more.
    """

    def __init__(self, moving: MovingIn, sheets: list[Theirs], matched: list[Match], count: _Count) -> None:
        self._moving, self._sheets, self._matched, self._count = moving, sheets, matched, count
        self.out: Wrong = {}
        self.foreseen = Foreseen()

    def run(self, progress: Progress, *, dry_run: bool) -> tuple[Report, Joined]:
        if not dry_run:
            self.out = out_of((self._moving.report or {}).get("out", {}))
        for _time in range(_MOST_TIMES):
            report, joined = self._once(progress, dry_run=dry_run)
            if not (dry_run and self._moving.given.get("leave_wrong")) or not self._leave_out(_wrong(report, joined)):
                break
        return report, joined

    def _once(self, progress: Progress, *, dry_run: bool) -> tuple[Report, Joined]:
        self._count.rows = 0
        joined = Joined(self._moving, self._sheets, self._matched, self._count, self.out)
        report = import_sheets(
            joined.found(),
            dry_run=dry_run,
            before_writing=lambda: progress.no_way_back(_("Writing it into the shop")),
            by=self._moving.job.asked_by if self._moving.job else None,
            said=Said(joined.row_said, column_called),
            foresee=self.foreseen,
            foresee_most=MOST,
        )
        return report, joined

    def _leave_out(self, wrong: Wrong) -> bool:
        """Whether there is a row more to leave out; what is wrong with a heading cannot be left out."""
        found = {
            index: {row: cells for row, cells in rows.items() if row != self._matched[index].look.header_row}
            for index, rows in wrong.items()
        }
        self.out = merged(self.out, {index: rows for index, rows in found.items() if rows})
        return any(found.values())


def merged(one: Wrong, other: Wrong) -> Wrong:
    """Both, by sheet and row of theirs."""
    return {index: {**other.get(index, {}), **one.get(index, {})} for index in one.keys() | other.keys()}


def _check_settled(matched: list[Match]) -> None:
    """A file that was uploaded anew may have other columns."""
    if not any(one.sheet for one in matched):
        raise Refused(_("None of these sheets is one of ours. Say which is."))
    for one in matched:
        if not one.is_settled:
            raise Refused(_("Say first what the columns of %(sheet)s are.") % {"sheet": one.look.title})


def _wrong(report: Report, joined: Joined) -> Wrong:
    """What is wrong, by sheet and row of theirs: each cell's place and sentence."""
    wrong: Wrong = {}
    for one in report.wrong_cells():
        spot = joined.spot(one.sheet, one.row, one.column)
        wrong.setdefault(spot.theirs, {}).setdefault(spot.row, []).append((spot.place, one.column, one.message))
    return wrong


def _mark(moving: MovingIn, sheets: list[Theirs], matched: list[Match], wrong: Wrong, progress: Progress) -> None:
    path = marked_up(moving)
    path.unlink(missing_ok=True)
    if wrong:
        from tooling.services.moving_in.marking import mark_up  # openpyxl takes a fifth of a second to import

        progress.say(0, 0, _("Marking what is to be changed"))
        mark_up(moving, sheets, matched, wrong, path, lambda: progress.say(0, 0, _("Marking what is to be changed")))


def _keep(moving: MovingIn, said: dict[str, Any], *, is_in: bool) -> None:
    moving.report, moving.tried_at = said, clock.now()
    moving.brought_in_at = moving.tried_at if is_in else None
    moving.save(update_fields=["report", "tried_at", "brought_in_at"])


def _words(said: dict[str, Any], dry_run: bool) -> str:
    if said["wrong_rows"]:
        message = ngettext("1 row of %(all)d is wrong.", "%(wrong)d rows of %(all)d are wrong.", said["wrong_rows"])
        return message % {"wrong": said["wrong_rows"], "all": said["rows"]}
    if dry_run:
        return _("All %(all)d rows are right. Nothing was written yet.") % {"all": said["rows"]}
    return _("All %(all)d rows are in the shop.") % {"all": said["rows"]}
