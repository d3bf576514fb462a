"""Parts: a new one, a further revision, and a revision that is changed. What stood there before is kept."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Part, PartChange, PartRevision, Person
from tooling.models.fields import NumberField
from tooling.services.kept import check_as_read, in_words
from tooling.services.measures import keep
from tooling.services.saving import save
from tooling.services.tool_sets import start_from

_OWN = ("id", "part")


@transaction.atomic
def add_part(number: str, *, by: Person, at: datetime, columns: Mapping[str, Any]) -> PartRevision:
    """A new part with its first revision. Raises ValidationError by field, or Refused where it is there."""
    number = " ".join(number.split())
    if Part.objects.numbered(number).exists():
        raise Refused(_("There is a part %(number)s already.") % {"number": number}, "number")
    part = Part(number=number)
    save(part)
    return add_revision(part, by=by, at=at, columns=columns)


@transaction.atomic
def add_revision(
    part: Part, *, by: Person, at: datetime, columns: Mapping[str, Any], like: PartRevision | None = None
) -> PartRevision:
    """A further revision, from then on the newest: `like` another one but for these columns, to the last digit.

    It starts with that one's tool set, else with that of the revision that was the newest, and none of it confirmed.
    """
    before = like or part.revisions.newest_first().first()
    row = PartRevision(part=part)
    for field in PartRevision._meta.concrete_fields:
        if like is not None and field.name not in _OWN:
            setattr(row, field.name, getattr(like, field.name))
    _check_name(row, columns)
    _set(row, columns)
    start_from(row, before)
    PartChange.objects.create(part=part, revision=row, at=at, who=by, after=row.revision)
    return row


@transaction.atomic
def change_revision(
    revision: PartRevision,
    *,
    by: Person,
    at: datetime,
    columns: Mapping[str, Any],
    read: PartRevision | None = None,
) -> PartRevision:
    """Changes these columns of a revision and keeps what stood there before. Raises ValidationError by field.

    `read`: the row as the form was judged by; what was changed since is refused.
    """
    row = PartRevision.objects.select_for_update(of=("self",)).select_related("part").get(pk=revision.pk)
    before = {name: in_words(getattr(row, name)) for name in columns}
    check_as_read(before, read)
    if "revision" in columns and row.revision:
        _check_name(row, columns)
    _set(row, columns)
    after = {name: in_words(getattr(row, name)) for name in columns}
    PartChange.objects.bulk_create(
        PartChange(part=row.part, revision=row, at=at, who=by, field=name, before=was, after=after[name])
        for name, was in before.items()
        if was != after[name]
    )
    return row


def _check_name(row: PartRevision, columns: Mapping[str, Any]) -> None:
    """Where others have a name, one without is a slip."""
    name = str(columns.get("revision", row.revision)).strip()
    others = PartRevision.objects.filter(part=row.part).exclude(revision="").exclude(pk=row.pk).newest_first()
    if not name and (newest := others.first()) is not None:
        text = _("Name the revision: the others have a name, the newest is %(newest)s.")
        raise Refused(text % {"newest": newest.revision}, "revision")


def _set(row: PartRevision, columns: Mapping[str, Any]) -> None:
    for name, value in columns.items():
        if isinstance(PartRevision._meta.get_field(name), NumberField):
            keep(row, name, value)
        else:
            setattr(row, name, value)
    save(row)
