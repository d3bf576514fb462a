"""A revision that was just taken back, kept in the session of who did it until it cannot be put back any more."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.core import serializers
from django.core.serializers.base import DeserializationError
from django.http import HttpRequest

from shared import clock
from tooling.models import Part, PartRevision, SetLine
from tooling.services.deeds.undo import RUB_OUT_WITHIN

_KEPT = "revision_gone"


def keep_gone(request: HttpRequest, revision: PartRevision, lines: Sequence[SetLine]) -> None:
    """The revision as it was, with its tool set."""
    rows = serializers.serialize("json", [revision, *lines])
    request.session[_KEPT] = {"part": revision.part_id, "at": clock.now().isoformat(), "rows": rows}


def forget(request: HttpRequest) -> None:
    """It is back."""
    request.session.pop(_KEPT, None)


def gone_of(request: HttpRequest, part: Part | None) -> tuple[Any, list[Any]] | None:
    """The revision of this part that this person took back within the last minutes, and its tool set, unsaved."""
    kept = request.session.get(_KEPT)
    if part is None or kept is None or kept["part"] != part.pk:
        return None
    if clock.now() - datetime.fromisoformat(kept["at"]) > RUB_OUT_WITHIN:
        return None
    try:
        row, *lines = (one.object for one in serializers.deserialize("json", kept["rows"]))
    except (DeserializationError, ValueError):  # of a version of the program that knew other columns
        return None
    return row, lines
