"""A tool comes into a tool set with its halves: needed as well, or in place of one that is there."""

from datetime import datetime

from django.db import transaction

from tooling.models import PartRevision, Person, SetLine, Tool
from tooling.services.set_rules import role_of
from tooling.services.tool_sets import add_line, change_line


@transaction.atomic
def add_tool(
    revision: PartRevision, tool: Tool, *, by: Person, at: datetime, in_place_of: SetLine | None = None
) -> list[SetLine]:
    """The lines that came in. In place of a line: as needed as that, and in its order."""
    line, *halves = add_line(revision, role_of(tool), tool=tool, with_halves=True, by=by, at=at)
    if in_place_of is not None:
        columns = {"required": in_place_of.required, "order": in_place_of.order}
        line = change_line(line, by=by, at=at, columns=columns, stands_in_for=in_place_of)
    return [line, *halves]
