"""A tool that stands on a rack is taken in as it is: what it is, its picture, and what is known of its past."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Entry, Person, Tool
from tooling.selectors.walk import begun, starting_state
from tooling.services import deeds
from tooling.services.catalogue import bring_in
from tooling.services.pictures import Stored, add_stored


@transaction.atomic
def take_in(
    *,
    by: Person,
    at: datetime,
    columns: Mapping[str, Any],
    picture: Stored | None = None,
    start: Mapping[str, Any] | None = None,
    token: UUID | None = None,
) -> Tool:
    """A tool, its picture and its starting state in one go: all of it, or nothing.

    The same token again gets the tool that it made; bring the tool in; hang the picture up, whose files are stored
    already; write the starting state. A trim mask has no surface, and so no starting state. Raises ValidationError by
    field, or Refused.
    """
    first = Entry.objects.filter(token=token, kind="starting_state").first() if token is not None else None
    if first is not None:
        return first.tool
    tool = bring_in(by=by, at=at, columns=columns)
    if picture is not None:
        add_stored(tool, picture, by=by, at=at)
    if start is not None and tool.has_surface:
        deeds.set_starting_state(tool, by=by, recorded_by=by, token=token, **start)
    return tool


@transaction.atomic
def say_how_it_stands(tool: Tool, *, by: Person, start: Mapping[str, Any], token: UUID | None = None) -> Entry:
    """What is known of a tool's past; said again, it stands in the place of what was said before.

    Refused where more was written of the surface: from there on the history itself says how it stands.
    """
    if begun(tool):
        raise Refused(_("The history of %(tool)s has begun. What is wrong there is corrected there.") % {"tool": tool})
    before = starting_state(tool)
    if before is not None and token is not None and before.token == token:
        before = before.replaces  # sent twice: the ledger knows the form again
    if before is None:
        return deeds.set_starting_state(tool, by=by, recorded_by=by, token=token, **start)
    facts = {name: value for name, value in start.items() if name != "at"}
    return deeds.correct(
        before, reason=_("said again"), changes=facts, by=by, recorded_by=by, at=start.get("at"), token=token
    )


def take_back(tool: Tool, *, by: Person) -> Entry:
    """A tool that was taken in by mistake: out of use, with its code, since nothing is ever removed."""
    return deeds.retire(tool, reason=_("taken in by mistake"), by=by, recorded_by=by)
