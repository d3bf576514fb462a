"""How a cutter stood before it was said to be worn, gone or fresh: kept for minutes in the address of the next page."""

from datetime import date
from decimal import Decimal
from typing import Any

from django.core import signing
from django.core.signing import BadSignature

from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.kept import in_words
from tooling.services.measures import stood
from trimfixtures.models import Cutter

_SALT = "trimfixtures.cutter-before"


def packed(one: Cutter, then: str) -> str:
    """Its state, and what a fresh one begins anew, as a text that nobody else can make. `then`: its state from now."""
    measured, typed = in_words(one.measured_mm), one.as_typed.get("measured_mm")
    row = [one.pk, then, one.state, in_words(one.fresh_on), measured, typed]
    return signing.dumps(row, salt=_SALT, compress=True)


def columns_of(text: str, one: Cutter) -> dict[str, Any] | None:
    """The columns as they stood; None where that is another's or too long ago, or somebody said otherwise since."""
    try:
        pk, then, state, fresh_on, measured, typed = signing.loads(text, salt=_SALT, max_age=RUB_OUT_WITHIN)
    except (BadSignature, ValueError):
        return None
    if pk != one.pk or then != one.state or state == one.state:
        return None
    before = Cutter(measured_mm=Decimal(measured) if measured else None)
    before.as_typed = {"measured_mm": typed} if typed else {}
    columns: dict[str, Any] = {"state": state}
    if fresh_on != in_words(one.fresh_on):
        columns["fresh_on"] = date.fromisoformat(fresh_on) if fresh_on else None
    if measured != in_words(one.measured_mm):
        columns["measured_mm"] = stood(before, "measured_mm")
    return columns
