"""A tool is begun in the shop: in the list from its first day, in the making until it is accepted."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from tooling.models import Person, Tool, ToolChange, tidy_code
from tooling.services.catalogue import bring_in

# A form that is sent again after a lost answer.
_AGAIN_WITHIN = timedelta(minutes=10)


def begin(*, by: Person, at: datetime, columns: Mapping[str, Any]) -> Tool:
    """A new tool in the making. What the same person sent a moment ago is there already, and given back.

    Raises ValidationError by field, or Refused.
    """
    there = Tool.objects.called(columns["code"]).select_related("summary").first()
    if there is not None and _just_begun(there, by, at, columns):
        return there
    return bring_in(by=by, at=at, columns={**columns, "in_making": True})


def _just_begun(tool: Tool, by: Person, at: datetime, columns: Mapping[str, Any]) -> bool:
    """Whether it is the same tool, of which nothing else was written yet."""
    same = (tool.code, tool.kind, tool.name) == (tidy_code(columns["code"]), columns["kind"], columns["name"])
    new = ToolChange.objects.filter(tool=tool, who=by, field="code", before="", at__gt=at - _AGAIN_WITHIN)
    return same and tool.summary.count == 0 and tool.in_making and new.exists()
