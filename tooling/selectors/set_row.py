"""The answer for a part as scripts read it: its tool set, why it may not be used, and from when it can be laid up."""

from datetime import UTC
from typing import Any

from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.tool_set import LineNow, ToolSet
from tooling.selectors.usable.reason import Reason


def as_row(answer: ToolSet, found: LayUpFrom) -> dict[str, Any]:
    """The command's JSON object; times in UTC. `tool` is None for hardware, which `item` says in words."""
    lay_up_at, cannot = found.lay_up_at, found.cannot
    return {
        "part": answer.revision.part.number,
        "revision": answer.revision.revision,
        "at": answer.at.astimezone(UTC).isoformat(),
        "usable": answer.usable,
        "why": answer.why,
        "lay_up_from": lay_up_at.astimezone(UTC).isoformat() if lay_up_at is not None else None,
        "starts_at": found.starts_at.astimezone(UTC).isoformat() if found.starts_at is not None else None,
        "cannot": None if cannot is None else {"code": cannot.code, "text": cannot.text},
        "assumed": list(found.assumed),
        "besides": list(found.besides),
        "lines": [_line(one) for one in answer.lines],
    }


def _line(one: LineNow) -> dict[str, Any]:
    return {
        "role": one.role,
        "tool": one.tool.code if one.tool is not None else None,
        "item": one.line.item,
        "place": one.place,
        "usable": one.usable,
        "required": one.needed,
        "offered": one.offered,
        "why": one.why,
        "reasons": [_reason(reason) for reason in one.reasons],
        "notes": [_reason(reason) for reason in one.notes],
    }


def _reason(reason: Reason) -> dict[str, str]:
    return {"code": reason.code, "tool": reason.tool, "text": reason.text, "mend": reason.mend}
