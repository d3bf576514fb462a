"""What the families read of the trim masks that are asked about: once for all of them, whatever part it is for."""

from collections.abc import Iterator
from datetime import datetime
from typing import TypeVar

from django.db.models import QuerySet

from tooling.models import Kind, Summary
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.read import Read
from trimfixtures.models import Mask
from trimfixtures.selectors.checks import Checked, checked_in, with_checks
from trimfixtures.selectors.cuts import Cut, cuts_of

T = TypeVar("T")


def checks_of(asked: Asked) -> dict[int, Checked]:
    """How far each is from its next check, by the key of its tool."""
    return _asked_for(asked, asked.read.once(checks))


def cuts_in(asked: Asked) -> dict[int, list[Cut]]:
    """The cuts of each, by the key of its tool; they and the cutters are taken as they stand now."""
    return _asked_for(asked, asked.read.once(cuts))


def masks_of(asked: Asked) -> dict[int, Mask]:
    """What is written down of each, by the key of its tool; nothing of those of which nothing is."""
    return _asked_for(asked, asked.read.once(masks))


def _asked_for(asked: Asked, found: dict[int, T]) -> dict[int, T]:
    return {tool.pk: found[tool.pk] for tool in asked.tools if tool.pk in found}


def columns(rows: QuerySet[Summary], at: datetime) -> QuerySet[Summary]:
    """What is read with the row of each tool: its checks, and what is written down of it."""
    return with_checks(rows.select_related("tool__mask"), at, "tool__")


def checks(read: Read) -> dict[int, Checked]:
    """How far each of all that are read is from its next check."""
    return {key: checked_in(vars(one)) for key, one in _trim_masks(read)}


def masks(read: Read) -> dict[int, Mask]:
    """What is written down of each of them."""
    known = ((key, getattr(one.tool, "mask", None)) for key, one in _trim_masks(read))
    return {key: mask for key, mask in known if mask is not None}


def _trim_masks(read: Read) -> Iterator[tuple[int, Summary]]:
    return ((key, read.summaries[key]) for key, tool in read.tools.items() if tool.kind == Kind.TRIM_MASK)


def cuts(read: Read) -> dict[int, list[Cut]]:
    """The cuts of each of them."""
    found = read.once(masks)
    each = cuts_of(found.values(), ruled=False)
    return {key: each[one.pk] for key, one in found.items()}
