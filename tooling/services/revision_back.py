"""A further revision that was written down by mistake is taken back, and put back as it was."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from django.db.models import Q, Value
from django.db.models.functions import Upper
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Entry, PartChange, PartRevision, Person, SetLine, Wanted
from tooling.services.saving import save
from tooling.services.set_kept import lock
from tooling.words.about import TAKEN_BACK


def against(revision: PartRevision) -> str:
    """Why a revision stays; "" where nothing names it and another one is there."""
    newest = revision.part.revisions.newest_first()[:2]
    if len(newest) < 2 or newest[0].pk != revision.pk:
        return _("Only the newest of several revisions can be taken back.")
    if Wanted.objects.filter(revision=revision).exists():
        return _("It was wanted by name, and the list of what is wanted keeps that: it stays.")
    if _laid_up(revision):
        return _("A lay-up goes by it, and what is written stays: so does the revision.")
    return ""


@transaction.atomic
def take_back(revision: PartRevision, *, by: Person, at: datetime) -> list[SetLine]:
    """The newest revision leaves with its tool set, and the one before is the newest again. The lines that left.

    Order: lock the revision; refuse what is named; what was changed of how many are wanted stays with the part; the
    revision goes; that it went is kept.
    """
    lock(revision)
    if said := against(revision):
        raise Refused(said)
    lines = list(revision.tool_set.order_by("pk"))
    before = revision.part.revisions.newest_first()[1]
    revision.changes.filter(field__in=("wanted", TAKEN_BACK)).update(revision=before)
    PartRevision.objects.filter(pk=revision.pk).delete()
    PartChange.objects.create(
        part=revision.part, revision=before, at=at, who=by, field=TAKEN_BACK, before=revision.revision
    )
    return lines


@transaction.atomic
def put_back(revision: PartRevision, lines: Sequence[SetLine], *, by: Person, at: datetime) -> PartRevision:
    """A revision that was taken back is the newest again, with the tool set that left with it."""
    revision.pk = None
    save(revision)
    for line in lines:
        line.pk, line.revision = None, revision
        line.save(force_insert=True)
    PartChange.objects.create(part=revision.part, revision=revision, at=at, who=by, after=revision.revision)
    return revision


def _laid_up(revision: PartRevision) -> bool:
    """Whether an entry names it, or names none of the part's revisions since it is the newest."""
    named = Entry.objects.alias(key=Upper("part")).filter(key=Upper(Value(revision.part.number))).exclude(part="")
    begun = revision.changes.filter(field="").order_by("at").values_list("at", flat=True).first()
    unsaid = Q(payload__revision="") | ~Q(payload__has_key="revision")
    if begun is not None:
        unsaid &= Q(recorded_at__gte=begun)
    return named.filter(unsaid | Q(payload__revision__iexact=revision.revision)).exists()
