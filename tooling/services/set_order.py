"""In which order a tool set is said, and which of its lines are alternatives."""

from collections.abc import Iterator
from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, SetLine
from tooling.selectors.matched import halves_of
from tooling.selectors.usable.set_inserts import groups
from tooling.services.set_kept import keep, lock
from tooling.services.set_rules import never_instead
from tooling.words.set_changes import as_kept

_LONGEST = SetLine._meta.get_field("alternative").max_length or 0


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


def joined(line: SetLine, other: SetLine, *, by: Person, at: datetime) -> str:
    """The word that a line and what it stands in for have in common; the other one gets it where it has none.

    Refused for a line that stands in for itself, for what has another use, and for halves that close on one part. A
    word that is there stays as it is, whatever the codes of its tools become.
    """
    if other.pk == line.pk:
        raise Refused(_("%(tool)s cannot stand in for itself: choose another one.") % {"tool": line.what}, "instead")
    if other.revision_id != line.revision_id or other.role != line.role:
        text = _("%(tool)s has another use than %(other)s: choose one of the same use in this set.")
        raise Refused(text % {"tool": line.what, "other": other.what}, "instead")
    if line.tool is not None and other.tool is not None and other.tool in halves_of(line.tool):
        raise Refused(never_instead(line.what, other.what), "instead")
    if not other.alternative:
        before, other.alternative = as_kept(other), _new_word(other)
        other.save(update_fields=["alternative"])
        keep(line.revision, by, at, before=before, after=as_kept(other))
    return other.alternative


def _new_word(line: SetLine) -> str:
    """What the line is called; with a number behind it where the set has that word for others."""
    of_role = line.revision.tool_set.filter(role=line.role).values_list("alternative", flat=True)
    taken = {word.casefold() for word in of_role}
    tried = (line.what[: _LONGEST - 4].strip() + (f" {n}" if n else "") for n in (0, *range(2, 999)))
    return next(word for word in tried if word.casefold() not in taken)
