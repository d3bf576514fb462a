"""The shop's limits of readings: set, changed, taken out and put back."""

from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import ReadingLimit, Shop, Tool
from tooling.models.reading_keys import key_of
from tooling.services.limit_rules import wrong_with


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
    key: int | None = None,
    read: str | None = None,
) -> ReadingLimit:
    """A limit for all tools of a kind, or for one tool. row: the one that is changed; key: of one that is put back.

    Order: lock the limits; refuse what cannot be, what was changed since it was `read` (as `stand_of` says it), and a
    second one of the same thing; write the row.
    """
    list(Shop.objects.select_for_update(no_key=True).filter(pk=1))  # none yet has no row to lock
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
    if stands is not None and read not in (None, stand_of(stands)):
        raise Refused(
            _("Somebody changed this limit meanwhile: look at it above. Sent once more, yours takes its place.")
        )
    if _same(says, stands):
        raise Refused(_("There is a limit of this already: change that one."), "quantity")
    made = stands or ReadingLimit(pk=key)
    for column, value in says.items():
        setattr(made, column, value)
    made.save()
    return made


def take_out(row: ReadingLimit) -> None:
    """A limit holds no longer; readings keep what they say."""
    row.delete()


def stand_of(row: ReadingLimit) -> str:
    """All that a limit says, in one text: another text once somebody changed it."""
    said = (row.kind, row.tool_id, row.quantity, row.unit, row.geometry, row.limit.normalize(), row.worse, row.note)
    return " · ".join(map(str, said))


def _texts(quantity: str, unit: str, geometry: str, note: str) -> list[tuple[str, str]]:
    return [("quantity", quantity), ("unit", unit), ("geometry", geometry), ("note", note)]


def _stands(row: ReadingLimit | None) -> ReadingLimit | None:
    if row is None:
        return None
    found = ReadingLimit.objects.filter(pk=row.pk).first()
    if found is None:
        raise Refused(_("Somebody took this limit out meanwhile. Set it anew if it is still wanted."))
    return found


def _same(says: dict[str, Any], but: ReadingLimit | None) -> bool:
    """Whether another row is a limit of the same thing, whichever way it is written."""
    tool = says["tool"]
    of = Q(tool=tool) if tool is not None else Q(tool=None, kind=says["kind"])
    others = [one for one in ReadingLimit.objects.filter(of) if but is None or one.pk != but.pk]
    wanted = key_of(says["quantity"], says["unit"], says["geometry"])
    return any(key_of(one.quantity, one.unit, one.geometry) == wanted for one in others)
