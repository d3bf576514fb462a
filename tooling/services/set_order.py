"""In which order a tool set is said."""

from collections.abc import Iterator
from datetime import datetime

from django.db import transaction

from tooling.models import Person, SetLine
from tooling.selectors.usable.set_inserts import groups
from tooling.services.set_kept import keep, lock
from tooling.words.set_changes import as_kept


@transaction.atomic
def move(line: SetLine, place: int, *, by: Person, at: datetime) -> bool:
    """A line comes to a place among those of its role, from 1, with its alternatives; whether anything changed.

    Order: lock the revision; put its group there; write the numbers that this changes, and what was changed. To send it
    twice moves it once.
    """
    lock(line.revision)
    line.refresh_from_db(fields=["order"])
    of_role = list(line.revision.tool_set.filter(role=line.role).select_related("tool").in_order())
    blocks = groups(of_role)
    own = next(block for block in blocks if line in block)
    there = blocks.index(own)
    place = min(max(place, 1), len(blocks)) - 1
    if place == there:
        return False
    blocks.insert(place, blocks.pop(there))
    for one, order in _numbers(blocks):
        if one.order != order:
            before, one.order = as_kept(one), order
            one.save(update_fields=["order"])
            keep(line.revision, by, at, before=before, after=as_kept(one))
    return True


def _numbers(blocks: list[list[SetLine]]) -> Iterator[tuple[SetLine, int]]:
    """The lines with their numbers: alternatives share one, unless their own order was said."""
    orders = sorted({one.order for block in blocks for one in block if one.order is not None})
    shared = all(len({one.order for one in block}) == 1 for block in blocks)
    if shared and len(orders) == len(blocks):  # the numbers that the shop gave stay: they only change hands
        for block, order in zip(blocks, orders, strict=True):
            yield from ((one, order) for one in block)
        return
    number = 0
    for block in blocks:
        apart = len({one.order for one in block}) > 1
        number += 1
        for place, one in enumerate(block):
            number += int(apart and place > 0)
            yield one, number
