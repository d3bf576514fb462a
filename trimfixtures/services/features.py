"""The cuts of a trim mask: one comes in, is changed, leaves and comes back; and their order. One function a deed."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person
from tooling.services.kept import check_as_read, in_words
from tooling.services.saving import save
from trimfixtures.models import Feature, FeatureKind, Mask
from trimfixtures.services.columns import put, refuse, stand, values_of
from trimfixtures.services.feature_rules import lacking, mixed, wrong_with
from trimfixtures.services.kept import keep, lock_mask
from trimfixtures.words.changes import CUT, ORDER, cut_as_kept


@transaction.atomic
def add_feature(mask: Mask, *, by: Person, at: datetime, **columns: Any) -> Feature:
    """A cut comes in; without a number it is the last before the edge, an edge the last of all.

    Order: lock the trim mask; refuse what cannot be, and sizes that are missing; write the cut, its place in the
    order, and what was added. Raises ValidationError by field.
    """
    row = Feature(mask=lock_mask(mask))
    put(row, columns)
    refuse({**lacking(values_of(row)), **_wrong(row, by, columns)})
    save(row)
    _put_in_line(row)
    keep(mask.tool, by, at, CUT, after=_kept(row))
    return row


@transaction.atomic
def change_feature(
    feature: Feature, *, by: Person, at: datetime, read: Feature | None = None, **columns: Any
) -> Feature:
    """Changes these columns of a cut and keeps what stood there before. `read`: the row as the form was judged by.

    Order: lock the trim mask; refuse what was changed since it was read, what cannot be, and a size that is left out
    now; write the cut and its change. What an import left out is not asked for until its kind or method is changed.
    """
    mask = lock_mask(feature.mask)
    row = mask.features.select_related("cutter", "bushing").get(pk=feature.pk)
    before, name = stand(row, columns), str(row)
    check_as_read(before, read)
    put(row, columns)
    asked = lacking(values_of(row))
    if not columns.keys() & {"kind", "method"}:
        asked = {name: text for name, text in asked.items() if columns.keys() & {name, f"{name}_mm"}}
    refuse({**asked, **_wrong(row, by, columns)})
    save(row)
    after = stand(row, columns)
    differ = [column for column, was in before.items() if was != after[column]]
    was, now = ({column: of[column] for column in differ} for of in (before, after))
    if differ:
        keep(mask.tool, by, at, CUT, before=cut_as_kept(name, was), after=cut_as_kept(str(row), now))
    return row


@transaction.atomic
def remove_feature(feature: Feature, *, by: Person, at: datetime) -> Feature:
    """A cut leaves. The row is returned as it was, for `put_back`."""
    mask = lock_mask(feature.mask)
    row = mask.features.select_related("cutter", "bushing").get(pk=feature.pk)
    keep(mask.tool, by, at, CUT, before=_kept(row))
    Feature.objects.filter(pk=row.pk).delete()
    return row


@transaction.atomic
def put_back(feature: Feature, *, by: Person, at: datetime) -> Feature:
    """A cut that left comes back as it was, where it was in the order; refused where it cannot be any more."""
    mask = lock_mask(feature.mask)
    if mask.features.filter(pk=feature.pk).exists():
        raise Refused(_("This cut is there already."))
    # With its key, so that it stands where it was, numbered or not.
    row = Feature(pk=feature.pk, mask=mask)
    put(row, {name: value for name, value in values_of(feature).items() if name not in ("mask", "as_typed")})
    row.as_typed = feature.as_typed
    refuse(_wrong(row, by, {}))
    save(row)
    keep(mask.tool, by, at, CUT, after=_kept(row))
    return row


@transaction.atomic
def put_in_order(mask: Mask, order: Sequence[int], *, by: Person, at: datetime) -> list[Feature]:
    """Numbers the cuts, named by their keys, from 1 on. Refused where these are not all the cuts there are."""
    mask = lock_mask(mask)
    before = list(mask.features.in_order())
    by_key = {row.pk: row for row in before}
    if sorted(order) != sorted(by_key):
        raise Refused(_("Somebody changed the cuts meanwhile. Look at them as they are now, then put them in order."))
    after = [by_key[key] for key in order]
    was, now = (", ".join(map(str, rows)) for rows in (before, after))
    _number(after)
    keep(mask.tool, by, at, ORDER, before=was, after=now)
    return after


def _wrong(row: Feature, by: Person, columns: dict[str, Any]) -> dict[str, str]:
    return {**mixed(columns), **wrong_with(values_of(row), mask=row.mask, units=by.units)}


def _put_in_line(row: Feature) -> None:
    """A cut without a number goes before the edges at the end, where the others have numbers."""
    others = list(row.mask.features.exclude(pk=row.pk).in_order())
    if row.order is not None or all(other.order is None for other in others):
        return
    place = len(others)
    while row.kind != FeatureKind.EDGE and place and others[place - 1].kind == FeatureKind.EDGE:
        place -= 1
    _number([*others[:place], row, *others[place:]])


def _number(rows: Sequence[Feature]) -> None:
    for number, row in enumerate(rows, 1):
        row.order = number
    Feature.objects.bulk_update(rows, ["order"])


def _kept(row: Feature) -> str:
    said = {name: in_words(value) for name, value in values_of(row).items() if name not in ("mask", "as_typed")}
    return cut_as_kept(str(row), {name: text for name, text in said.items() if text and name not in ("name", "order")})
