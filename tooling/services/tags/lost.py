"""The tag of a tool is lost or cannot be read any more: it wants another."""

from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, TagPrint, Tool
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.tags.wanted import keep


@transaction.atomic
def tag_lost(tool: Tool, *, by: Person, recorded_by: Person, at: datetime) -> TagPrint:
    """Puts the tool on the list of tags to print. Said twice, the first stays."""
    keep([tool.pk])
    fresh = {"lost_at": at, "lost_by": by, "lost_recorded_by": recorded_by}
    TagPrint.objects.filter(tool=tool, lost_at=None).update(**fresh)
    keep([tool.pk])
    return TagPrint.objects.get(tool=tool)


@transaction.atomic
def rub_out_lost(tool: Tool, *, by: Person, at: datetime) -> None:
    """It was found again. Twice is harmless; a lead may do it at any time, others only what was written just now."""
    tag = TagPrint.objects.select_for_update(of=("self",)).filter(tool=tool).first()
    if tag is None or tag.lost_at is None:
        return
    if not may_rub_out(tag, by, at):
        raise Refused(_("Rubbing out ends five minutes after writing. A lead takes it back, or prints the tag."))
    TagPrint.objects.filter(tool=tool).update(lost_at=None, lost_by=None, lost_recorded_by=None)
    keep([tool.pk])


def may_rub_out(tag: TagPrint, person: Person, at: datetime) -> bool:
    """True for a lead, and for what was written from the same sign-in within the last five minutes."""
    just_now = tag.lost_at is not None and at - tag.lost_at <= RUB_OUT_WITHIN
    return person.can_lead or (just_now and tag.lost_recorded_by_id == person.pk)
