"""The other halves of a matched set, and how each of them stands."""

from dataclasses import dataclass
from datetime import datetime
from operator import attrgetter

from tooling.models import Kind, Summary, Tool
from tooling.selectors.floor import Floor, floor


@dataclass(frozen=True)
class Half:
    """Another half, as it stands. `same_part`: what is in it is what is in the tool that was asked about."""

    tool: Tool
    on: Floor
    same_part: bool

    @property
    def part_in(self) -> bool:
        """Whether a part is in it, whichever."""
        return self.on.summary.laid_up_at is not None


def other_halves(tool: Tool, at: datetime) -> list[Half]:
    """The molds that close on one part with the tool, in code order: of its matched set, in use."""
    found = halves_of(tool)
    if not found:
        return []
    own = Summary.objects.get(tool=tool)
    return [Half(one, on := floor(one, at), same_part(own, on.summary)) for one in found]


def coming_off(on: Floor) -> list[Half]:
    """The halves that a part comes off together with the tool: it is in them, or nothing is said to be in any."""
    nothing = on.summary.laid_up_at is None
    return [half for half in other_halves(on.tool, on.at) if half.same_part or (nothing and not half.part_in)]


def halves_of(tool: Tool) -> list[Tool]:
    """The tools alone: the other molds of its matched set, neither retired nor in the making."""
    if not tool.matched_set or tool.kind != Kind.MOLD:
        return []
    found = Tool.objects.filter(matched_set=tool.matched_set, kind=Kind.MOLD).exclude(pk=tool.pk)
    # Put in order here: asked to do it, the database reads all tools in the order of their codes.
    usable = found.filter(summary__retired=False, summary__making=False).order_by()
    return sorted(usable, key=attrgetter("code"))


def in_with(tool: Tool, own: Summary) -> list[str]:
    """The codes of the other halves that the part in the tool is in as well."""
    halves = {half.pk: half.code for half in halves_of(tool)} if own.laid_up_at is not None else {}
    found = Summary.objects.filter(tool__in=halves) if halves else ()
    return sorted(halves[one.tool_id] for one in found if same_part(own, one))


def same_part(one: Summary, other: Summary) -> bool:
    """Whether one part is in both: parts are in them, of the same number and serial as far as both are known."""
    if one.laid_up_at is None or other.laid_up_at is None:
        return False
    said = ((one.part.upper(), other.part.upper()), (one.serial, other.serial))
    return all(mine == theirs or not (mine and theirs) for mine, theirs in said)
