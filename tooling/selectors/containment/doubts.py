"""What puts parts in doubt: an entry that stops a tool, or a lot."""

from dataclasses import dataclass

from tooling.calc.order import Key
from tooling.models import Entry, Kind, Tool
from tooling.services.deeds.alongside import in_place_of


@dataclass(frozen=True, slots=True)
class Doubt:
    """An entry as it stands now, with those that it replaced, and the tool whose parts are in doubt by it.

    chain: the keys of all of them, the first one last. `stands`: nobody voided it or made something else of it.
    """

    entry: Entry
    chain: tuple[int, ...]
    tool: Tool
    stands: bool

    @property
    def root(self) -> int:
        """The key of what was written first: it stays the same, however often it is corrected."""
        return self.chain[-1]

    @property
    def key(self) -> Key:
        """Its turn in a history."""
        return self.entry.at, self.root


def puts_in_doubt(entry: Entry) -> bool:
    """A hold, a look or a check that was not passed, a pull that says how it came off: a recipe may hold from any."""
    if entry.kind == "hold":
        return True
    if entry.kind in ("inspected", "check"):
        return entry.payload.get("passed") is not True
    return entry.kind == "pull" and bool(entry.came_off or entry.payload.get("tool_damaged"))


def doubt_of(code: str, number: int, of: str = "") -> Doubt | None:
    """What an entry of a tool puts in doubt; None where it stops nothing. of: the code of a mold insert that was in."""
    entries = Entry.objects.select_related("tool", "by")
    entry = entries.filter(tool__code=code.upper(), number=number).first()
    if entry is None:
        return None
    chain = in_place_of(entry).with_earlier()
    said = next((one for one in chain if puts_in_doubt(one)), None)
    if said is None:
        return None
    stands = said is chain[0] and not Entry.objects.filter(voids=said).exists()
    tool = _tool(said, of)
    return None if tool is None else Doubt(said, tuple(one.pk for one in chain), tool, stands)


def _tool(entry: Entry, of: str) -> Tool | None:
    """The tool that was looked at or that it came off hard from: a pull may name the surface."""
    tools = Tool.objects.select_related("release_system")
    if of and of.upper() != entry.tool.code:
        return tools.filter(code=of.upper(), kind=Kind.INSERT).first()
    surface = entry.payload.get("surface") if entry.kind == "pull" and not of else None
    return tools.get(pk=surface or entry.tool_id)
