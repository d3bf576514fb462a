"""An answer that is a table of text, which any spreadsheet opens."""

import csv
from collections.abc import Iterable
from io import StringIO

from django.http import HttpResponse

from tooling.services.sheets.escapes import guard


def table_reply(name: str, titles: Iterable[str], rows: Iterable[Iterable[str]]) -> HttpResponse:
    """The table as a file of that name; no cell of it is a formula."""
    text = StringIO()
    # A mark of byte order: without it a spreadsheet takes the letters for those of another alphabet.
    text.write("\ufeff")
    writer = csv.writer(text)
    writer.writerow(titles)
    writer.writerows([guard(cell) for cell in row] for row in rows)
    reply = HttpResponse(text.getvalue(), content_type="text/csv; charset=utf-8")
    reply["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return reply
