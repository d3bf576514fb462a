"""The shop's limits of readings: set, changed, taken out and put back. What held before stays to be read."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, ReadingLimit, Shop, Tool
from tooling.models.reading_keys import key_of
from tooling.services.limit_rules import wrong_with

# Put back within so long a limit never was out; later it holds anew.
_SLIP = timedelta(minutes=5)


@transaction.atomic
def set_limit(
    *,
    quantity: str,
    unit: str,
    limit: Decimal,
    worse: str,
    kind: str = "",
    tool: Tool | None = None,
    geometry: str = "",
    note: str = "",
    row: ReadingLimit | None = None,
    by: Person | None = None,
    at: datetime | None = None,
) -> ReadingLimit:
    """A limit for all tools of a kind, or for one tool. row: the one that it takes the place of from then on.

    at: since when it holds; None, where it takes no place: as long as there is a record.
    Order: lock the limits; refuse what cannot be, and a second one of the same thing; end the row before; write.
    """
    Shop.lock()
    says: dict[str, Any] = {
        "kind": tool.kind if tool is not None else kind,
        "tool": tool,
        **{name: " ".join(text.split()) for name, text in _texts(quantity, unit, geometry, note)},
        "limit": limit,
        "worse": worse,
    }
    for column, sentence in wrong_with(says).items():
        raise Refused(sentence, column)
    stands = _stands(row)
    if _same(says, stands):
        raise Refused(_("There is a limit of this already: change that one."), "quantity")
    if stands is None:
        return ReadingLimit.objects.create(**says, since=at, set_by=by)
    if all(getattr(stands, column) == value for column, value in says.items()):
        return stands
    if at is None:
        raise ValueError("A limit takes the place of another from a moment on.")
    _end(stands, by, at)
    return ReadingLimit.objects.create(**says, since=at, set_by=by)


@transaction.atomic
def take_out(row: ReadingLimit, *, by: Person | None, at: datetime) -> None:
    """A limit holds no longer; readings keep what they say, and what it was stays to be read."""
    Shop.lock()
    stands = ReadingLimit.objects.standing().filter(pk=row.pk).first()
    if stands is not None:
        _end(stands, by, at)


@transaction.atomic
def put_back(row: ReadingLimit, *, by: Person | None, at: datetime) -> None:
    """It holds again. Refused where another of the same thing was set meanwhile."""
    Shop.lock()
    out = ReadingLimit.objects.select_related("tool").exclude(until=None).filter(pk=row.pk).first()
    if out is None:
        return
    says = {name: getattr(out, name) for name in ("kind", "tool", "quantity", "unit", "geometry")}
    if _same(says, None):
        raise Refused(_("There is a limit of this already: change that one."), "quantity")
    if out.until is not None and at - out.until <= _SLIP:
        out.until = out.ended_by = None
        out.save()
    else:
        says |= {"limit": out.limit, "worse": out.worse, "note": out.note}
        ReadingLimit.objects.create(**says, since=at, set_by=by)


def _end(row: ReadingLimit, by: Person | None, at: datetime) -> None:
    row.until, row.ended_by = max(at, row.since or at), by
    row.save()


def _texts(quantity: str, unit: str, geometry: str, note: str) -> list[tuple[str, str]]:
    return [("quantity", quantity), ("unit", unit), ("geometry", geometry), ("note", note)]


def _stands(row: ReadingLimit | None) -> ReadingLimit | None:
    if row is None:
        return None
    found = ReadingLimit.objects.standing().filter(pk=row.pk).first()
    if found is None:
        raise Refused(_("Somebody changed this limit or took it out meanwhile. Set it anew if it is still wanted."))
    return found


def _same(says: dict[str, Any], but: ReadingLimit | None) -> bool:
    """Whether another row is a limit of the same thing, whichever way it is written."""
    tool = says["tool"]
    of = Q(tool=tool) if tool is not None else Q(tool=None, kind=says["kind"])
    others = [one for one in ReadingLimit.objects.standing().filter(of) if but is None or one.pk != but.pk]
    wanted = key_of(says["quantity"], says["unit"], says["geometry"])
    return any(key_of(one.quantity, one.unit, one.geometry) == wanted for one in others)
