"""What every change of a tool set does first and last."""

from datetime import datetime

from tooling.models import PartChange, PartRevision, Person
from tooling.words.set_changes import FIELD


def lock(revision: PartRevision) -> None:
    """Two people who change one set come one after the other."""
    PartRevision.objects.select_for_update(of=("self",)).get(pk=revision.pk)


def keep(revision: PartRevision, by: Person, at: datetime, *, before: str = "", after: str = "") -> None:
    """What was changed stays with the part."""
    if before != after:
        PartChange.objects.create(
            part_id=revision.part_id, revision=revision, at=at, who=by, field=FIELD, before=before, after=after
        )
