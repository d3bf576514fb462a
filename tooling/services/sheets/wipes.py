"""That coats were wiped, as two columns of the sheet `history`: it is no entry of its own."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, NamedTuple

from django.db.models import OuterRef, QuerySet, Subquery
from django.utils.translation import gettext as _

from tooling.calc.check import FUTURE, Refusal
from tooling.models import Entry, Wipe
from tooling.services.refusals import refused
from tooling.services.sheets import cells
from tooling.services.sheets.table import Column, Load, Row

AT, BY = "wiped_at", "wiped_by"
COLUMNS = (Column(AT, cells.INSTANT), Column(BY, cells.name(80)))
# What is read of each entry, in this order
READ = ("wiped", "wiped_by_name")


class Wiped(NamedTuple):
    """When a coat was wiped, and by whose hands; "" where nobody said."""

    at: datetime
    by: str


def check(row: Row, load: Load) -> None:
    """Notes what is wrong with the two cells."""
    values, wrong = row.values, row.wrong
    if AT in values and values.get("entry") not in ("coat", None):
        wrong.setdefault(AT, _("Only a coat is wiped. Leave this empty here."))
    if AT in values and values[AT] > load.now + FUTURE:
        wrong.setdefault(AT, refused(Refusal("future")).message)
    if BY in values and AT not in values and AT not in wrong:
        wrong.setdefault(AT, _("Say when it was wiped."))


def of_row(row: Row) -> Wiped | None:
    """What the row says of it."""
    return Wiped(row.values[AT], row.values.get(BY, "")) if AT in row.values else None


def read_with(entries: QuerySet[Entry]) -> QuerySet[Entry]:
    """The entries with READ."""
    standing = Wipe.objects.standing().filter(coat=OuterRef("pk"))
    return entries.annotate(
        wiped=Subquery(standing.values("at")[:1]), wiped_by_name=Subquery(standing.values("by__name")[:1])
    )


def given(row: Mapping[str, Any]) -> dict[str, Any]:
    """The two cells of an entry that was read."""
    return {AT: row["wiped"], BY: row["wiped_by_name"]}


def write(found: Iterable[tuple[Entry, Wiped]], people: Mapping[str, int]) -> None:
    """The rows of those that were wiped, when their entries are there."""
    wipes = [Wipe(coat=entry, at=wiped.at, by_id=people.get(wiped.by)) for entry, wiped in found]
    Wipe.objects.bulk_create(wipes, batch_size=500)
