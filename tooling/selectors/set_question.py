"""What is asked before a tool comes into a tool set, and what is said of it then."""

from dataclasses import dataclass

from tooling.models import Entry, Kind, SetRole, Summary, Tool
from tooling.selectors.matched import halves_of
from tooling.selectors.set_lines import Group, Lines
from tooling.words.tool_set import never_in, still_made

# Of these a second one is needed as well, or does instead.
_ASKED = {Kind.MOLD: SetRole.MOLD, Kind.INSERT: SetRole.INSERT}


@dataclass(frozen=True, slots=True)
class Question:
    """Whether the tool is needed as well or in place of one of these; `notes`: what somebody may have overlooked."""

    tool: Tool
    groups: list[Group]
    notes: list[str]


def question(lines: Lines, tool: Tool) -> Question | None:
    """None where nothing of its use is there, or its other half is: then it is needed as well."""
    groups = lines.roles[_ASKED[Kind(tool.kind)]] if tool.kind in _ASKED else []
    there = {one.line.tool_id for one in lines.all}
    if not groups or tool.pk in there or any(half.pk in there for half in halves_of(tool)):
        return None
    return Question(tool, groups, notes(lines, tool))


def notes(lines: Lines, tool: Tool) -> list[str]:
    """That it is still made, and that it was in none of the molds of the set."""
    found = []
    if Summary.objects.filter(tool=tool, making=True).exists():
        found.append(still_made(tool.code))
    molds = [one.line.tool for one in lines.all if one.line.role == SetRole.MOLD and one.line.tool is not None]
    if tool.kind == Kind.INSERT and molds:
        put_in = Entry.objects.filter(tool=tool, kind="installed", mold__in=molds).standing()
        if not put_in.exists():
            found.append(never_in(tool.code, [mold.code for mold in molds]))
    return found
