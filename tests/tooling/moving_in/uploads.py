"""A shop's own spreadsheets for tests, and the way in."""

import threading
from io import BytesIO

import openpyxl
from django.core.files.uploadedfile import SimpleUploadedFile

from shared import clock
from tooling.models import ColumnMatch, MovingIn
from tooling.services.jobs.working import work
from tooling.services.moving_in import files, trying
from tooling.services.moving_in.matching import matches, remember
from tooling.services.moving_in.tables import theirs


def book(**sheets) -> bytes:
    """A workbook of sheets, each a list of rows."""
    made = openpyxl.Workbook()
    made.remove(made.active)
    for title, rows in sheets.items():
        page = made.create_sheet(title.replace("_", " "))
        for row in rows:
            page.append(list(row))
    held = BytesIO()
    made.save(held)
    return held.getvalue()


def uploaded(name: str, content: bytes | str) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content.encode() if isinstance(content, str) else content)


def take_up(lead, *given, **said) -> MovingIn:
    """Uploads files, each a pair of name and content, and says things of them."""
    moving = files.take_up([uploaded(*one) for one in given], by=lead, at=clock.now())
    moving.given = said
    moving.save()
    return moving


def matched(moving):
    with theirs(moving) as sheets:
        return matches(moving, sheets)


def agree(moving) -> None:
    """Says that everything is as it was guessed."""
    remember(matched(moving))


def run(moving, lead, kind=trying.TRY) -> MovingIn:
    """Tries it, or brings it in, as the worker does."""
    job = trying.start(kind, moving, by=lead, at=clock.now())
    work(threading.Event(), once=True)
    moving.refresh_from_db()
    moving.job.refresh_from_db()
    assert job.pk == moving.job.pk
    return moving


def bring_in(moving, lead) -> MovingIn:
    return run(moving, lead, trying.BRING_IN)


def match(sheet, column, ours, target) -> None:
    """Says what one column is."""
    said = {"sheet": ours, "column": target}
    ColumnMatch.objects.update_or_create(their_sheet=sheet, their_column=column, defaults=said)
