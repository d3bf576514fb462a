"""The cuts of a trim mask: one comes in, is changed, leaves and comes back; and their order. One function a deed."""

import json
from collections.abc import Mapping, Sequence
from datetime import datetime
from hashlib import sha256
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused, TokenReused
from tooling.models import Person
from tooling.services.columns import differing, put, refuse, stand, values_of
from tooling.services.kept import check_as_read, in_words, keep
from tooling.services.saving import save
from trimfixtures.models import Feature, FeatureKind, Mask
from trimfixtures.services.feature_rules import lacking, mixed, wrong_with
from trimfixtures.services.kept import lock_library, lock_mask
from trimfixtures.words.changes import CUT, ORDER, cut_as_kept

# What a row has besides what a person says of the cut
_OF_THE_ROW = frozenset({"mask", "as_typed", "token", "asked"})


@transaction.atomic
def add_feature(mask: Mask, *, by: Person, at: datetime, token: UUID | None = None, **columns: Any) -> Feature:
    """A cut comes in; without a number it is the last before the edge, an edge the last of all.

    Order: lock the trim mask; the token (the same form again gets the cut that it wrote); lock the cutter and the
    bushing; refuse what cannot be, and sizes that are missing; write the cut, its place in the order, and what was
    added. Raises ValidationError by field.
    """
    row = Feature(mask=lock_mask(mask), token=token)
    put(row, columns)
    row.asked = _fingerprint(row, by, columns)
    if first := _answered(row):
        return first
    _lock_library(row)
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
    _lock_library(row)
    asked = lacking(values_of(row))
    if not columns.keys() & {"kind", "method"}:
        asked = {name: text for name, text in asked.items() if columns.keys() & {name, f"{name}_mm"}}
    refuse({**asked, **_wrong(row, by, columns)})
    save(row)
    was, now = differing(before, stand(row, columns))
    if now:
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
    put(row, {name: value for name, value in values_of(feature).items() if name not in _OF_THE_ROW})
    row.as_typed = feature.as_typed
    _lock_library(row)
    refuse(_wrong(row, by, {}))
    save(row)
    _put_in_line(row)
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


def _fingerprint(row: Feature, by: Person, columns: Mapping[str, Any]) -> str:
    return sha256(json.dumps([row.mask_id, by.pk, stand(row, columns)], sort_keys=True).encode()).hexdigest()[:16]


def _answered(row: Feature) -> Feature | None:
    """What the same form wrote before."""
    first = Feature.objects.filter(token=row.token).first() if row.token is not None else None
    if first is not None and first.asked != row.asked:
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
    return first


def _lock_library(row: Feature) -> None:
    """Its cutter and bushing as they are now: their sizes stay until the cut is written."""
    there = lock_library([row.cutter_id, row.bushing_id])
    row.cutter, row.bushing = there.get(row.cutter_id), there.get(row.bushing_id)


def _wrong(row: Feature, by: Person, columns: dict[str, Any]) -> dict[str, str]:
    return {**mixed(columns), **wrong_with(values_of(row), mask=row.mask, units=by.units)}


def _put_in_line(row: Feature) -> None:
    """A cut without a number goes before the edges at the end, where the others have numbers; no two have the same."""
    others = list(row.mask.features.exclude(pk=row.pk).in_order())
    if row.order is not None and any(other.order == row.order for other in others):
        _number([row if one.pk == row.pk else one for one in row.mask.features.in_order()])
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
    said = {name: in_words(value) for name, value in values_of(row).items() if name not in _OF_THE_ROW}
    return cut_as_kept(str(row), {name: text for name, text in said.items() if text and name not in ("name", "order")})
