"""Parts: a new one, a further revision, and a revision that is changed."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Part, PartRevision
from tooling.models.fields import NumberField
from tooling.services.measures import keep
from tooling.services.saving import save


@transaction.atomic
def add_part(number: str, columns: Mapping[str, Any]) -> PartRevision:
    """A new part with its first revision. Raises ValidationError by field, or Refused where it is there."""
    number = " ".join(number.split())
    if Part.objects.numbered(number).exists():
        raise Refused(_("There is a part %(number)s already.") % {"number": number}, "number")
    part = Part(number=number)
    save(part)
    return add_revision(part, columns)


@transaction.atomic
def add_revision(part: Part, columns: Mapping[str, Any]) -> PartRevision:
    """A further revision, from then on the newest. Raises ValidationError by field."""
    return _set(PartRevision(part=part), columns)


@transaction.atomic
def change_revision(revision: PartRevision, columns: Mapping[str, Any]) -> PartRevision:
    """Changes these columns of a revision. Raises ValidationError by field."""
    row = PartRevision.objects.select_for_update(of=("self",)).select_related("part").get(pk=revision.pk)
    return _set(row, columns)


def _set(row: PartRevision, columns: Mapping[str, Any]) -> PartRevision:
    for name, value in columns.items():
        if isinstance(PartRevision._meta.get_field(name), NumberField):
            keep(row, name, value)
        else:
            setattr(row, name, value)
    save(row)
    return row
