"""What was found at one part, whatever put it in doubt: for its story."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from tooling.models import ContainmentMark, Entry
from tooling.models.serials import key_of
from tooling.selectors.containment.lots import as_written


@dataclass(frozen=True, slots=True)
class Found:
    """A mark that stands, and those whose place it took, the latest first; its lot as it was written."""

    mark: ContainmentMark
    before: tuple[ContainmentMark, ...] = ()
    lot: str = ""


def marks_of(number: str, entries: Iterable[Entry]) -> list[Found]:
    """The marks that stand of a serial number, by the entries that tell of it; the latest first.

    One query, two with a lot.
    """
    marks = ContainmentMark.objects.filter(serial=key_of(number), use__in=[one.pk for one in entries])
    found = standing(marks.select_related("by", "of_entry__tool").order_by("-at", "-pk"))
    lots = as_written({one.mark.of_lot for one in found} - {""})
    return [replace(one, lot=lots.get(one.mark.of_lot, one.mark.of_lot)) for one in found]


def standing(marks: Iterable[ContainmentMark]) -> list[Found]:
    """Of all marks those that stand, in their order, each with what was found before. What was rubbed out is left."""
    every = list(marks)
    ended = {(*_of(one), one.taken_back_at): one for one in every if one.taken_back_at is not None}
    return [Found(one, tuple(_before(one, ended))) for one in every if one.taken_back_at is None]


def _before(one: ContainmentMark, ended: dict[tuple[Any, ...], ContainmentMark]) -> Iterator[ContainmentMark]:
    seen = {one.pk}
    earlier: ContainmentMark | None = one
    while earlier is not None and (earlier := ended.get((*_of(earlier), earlier.at))) is not None:
        if earlier.pk in seen:
            return
        seen.add(earlier.pk)
        yield earlier


def _of(one: ContainmentMark) -> tuple[Any, ...]:
    return one.of_entry_id, one.of_lot, one.use_id, one.serial
