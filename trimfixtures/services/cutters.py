"""The small library of cutters and guide bushings: a new one, and one that is measured, worn, gone or changed."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, tidy_code
from tooling.services.columns import put, refuse, stand, values_of
from tooling.services.kept import check_as_read
from tooling.services.saving import save
from trimfixtures.models import Cutter, CutterChange
from trimfixtures.services.cutter_rules import wrong_in_cuts, wrong_with

# What a cut is worked out from: a change of it is judged by the cuts that take it.
_OF_CUTS = ("kind", "nominal_mm")


@transaction.atomic
def add_cutter(*, by: Person, at: datetime, **columns: Any) -> Cutter:
    """A cutter or guide bushing comes into the library. Sizes as they were typed, or in mm.

    Order: refuse what cannot be; write the row, and who brought it in. Raises ValidationError by field.
    """
    cutter = Cutter()
    put(cutter, columns)
    refuse(wrong_with(values_of(cutter)))
    save(cutter)
    CutterChange.objects.create(cutter=cutter, at=at, who=by, after=cutter.code)
    return cutter


@transaction.atomic
def change_cutter(
    cutter: Cutter, *, by: Person, at: datetime, read: Cutter | None = None, **columns: Any
) -> list[CutterChange]:
    """Changes these columns of a cutter and keeps what stood there before. `read`: the row as the form was judged by.

    Order: lock the row; refuse what was changed since it was read, what cannot be, and what a cut that takes it could
    not be cut with; write the row and its changes, which are returned. The same again changes nothing.
    """
    row = Cutter.objects.select_for_update(of=("self",)).get(pk=cutter.pk)
    if tidy_code(columns.get("code", row.code)) != row.code:
        raise Refused(_("It keeps its code, since histories name it. Write another one down instead."), "code")
    before = stand(row, columns)
    check_as_read(before, read)
    put(row, columns)
    refuse(wrong_with(values_of(row)))
    named = next((name for name in _OF_CUTS if name in columns), None)
    if named is not None and (why := wrong_in_cuts(row, by.units)):
        refuse({named: why})
    save(row)
    cutter.refresh_from_db()
    return _written(row, by, at, before)


def _written(row: Cutter, by: Person, at: datetime, before: Mapping[str, str]) -> list[CutterChange]:
    after = stand(row, before)
    return CutterChange.objects.bulk_create(
        CutterChange(cutter=row, at=at, who=by, field=name, before=was, after=after[name])
        for name, was in before.items()
        if was != after[name]
    )
