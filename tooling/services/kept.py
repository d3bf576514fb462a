"""Changes of the catalogue as they are kept: in plain words, and refused where somebody else was a moment quicker."""

from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Summary, Tool, ToolChange
from tooling.models.fields import plain


def check_as_read(before: Mapping[str, str], read: Any) -> None:
    """Refuses a change of what is not any more as the form was judged by. `read`: the row then; None asks nothing."""
    for name, stands in before.items():
        if read is not None and in_words(getattr(read, name)) != stands:
            raise Refused(_("Somebody changed this a moment ago: look at it, and keep it again."), name)


def in_words(value: Any) -> str:
    """A value as the record of changes keeps it: plain text, the same on every machine."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{plain(value):f}"
    if isinstance(value, date):
        return value.isoformat()
    return str(value)


def lock(tool: Tool) -> None:
    """Lets one after the other describe a tool, and lets no deed come in between."""
    Summary.objects.select_for_update(of=("self",)).get(tool=tool)


def keep(tool: Tool, by: Person, at: datetime, field: str, *, before: str = "", after: str = "") -> None:
    """Keeps a change; the same is none. Its tag says nothing of it: who changes what stands there says so."""
    if before != after:
        ToolChange.objects.create(tool=tool, at=at, who=by, field=field, before=before, after=after)
