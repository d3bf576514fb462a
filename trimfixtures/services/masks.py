"""A trim mask is described: at which cut it is used, how it sits, its outline, how often it is checked."""

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Tool
from tooling.services.columns import put, refuse, stand, values_of
from tooling.services.kept import check_as_read, keep, lock
from tooling.services.saving import save
from tooling.services.tags import wanted
from trimfixtures.models import Mask
from trimfixtures.services import feature_rules
from trimfixtures.services.kept import lock_library
from trimfixtures.services.mask_rules import is_trim_mask, no_trim_mask, wrong_with
from trimfixtures.words.changes import PREFIX

# What a place or a corner of a cut is judged by
_OF_CUTS = ("outline", "stage")


@transaction.atomic
def describe(tool: Tool, *, by: Person, at: datetime, read: Mask | None = None, **columns: Any) -> Mask:
    """Says these columns of a trim mask, whose detail row is made where there is none, and keeps what stood before.

    `read`: the row as the form was judged by. Order: refuse a tool that is none; lock; refuse what was changed since
    it was read, what cannot be, and what a cut of it cannot be beside; write the row and its changes; say whether it
    wants another tag.
    """
    if not is_trim_mask(tool.kind):
        raise Refused(no_trim_mask(tool.code, tool.kind), "tool")
    lock(tool)
    mask = Mask.objects.filter(tool=tool).first() or Mask(tool=tool)
    before = stand(mask, columns)
    check_as_read(before, read)
    put(mask, columns)
    refuse(wrong_with(values_of(mask), units=by.units))
    named = next((name for name in _OF_CUTS if name in columns), None)
    if mask.pk is not None and named is not None and (why := _wrong_in_cuts(mask, by.units)):
        refuse({named: why})
    save(mask)
    for name, stands in stand(mask, columns).items():
        keep(tool, by, at, f"{PREFIX} {name}", before=before[name], after=stands)
    wanted.keep([tool.pk])
    return mask


def _wrong_in_cuts(mask: Mask, units: str) -> str:
    """Which of its cuts cannot be beside the trim mask as it stands here, and why; "" where all can."""
    lock_library(key for pair in mask.features.values_list("cutter", "bushing") for key in pair)
    for cut in mask.features.select_related("cutter", "bushing").in_order():
        wrong = feature_rules.wrong_with(values_of(cut), mask=mask, units=units)
        if wrong:
            return _("Cut “%(cut)s”: %(why)s") % {"cut": cut, "why": next(iter(wrong.values()))}
    return ""
