"""The index of serial numbers, kept level with the entries that name them."""

from collections.abc import Iterable, Iterator

from tooling.models import Entry, SerialNumber
from tooling.models.serials import bare_of, key_of, split

_PIECE = 1000
# Of a row its entry and what it says.
Indexed = tuple[int, str, str, str]


def keep(entries: Iterable[Entry]) -> None:
    """Writes the serial numbers of entries that were just written."""
    SerialNumber.objects.bulk_create([row for entry in entries for row in rows_of(entry)], batch_size=_PIECE)


def rows_of(entry: Entry) -> Iterator[SerialNumber]:
    """What the index has of an entry: each of its numbers once."""
    if not entry.serial:
        return
    part = key_of(entry.part)
    for key, bare in {key_of(one): bare_of(one) for one in split(entry.serial)}.items():
        yield SerialNumber(entry=entry, key=key, part=part, bare=bare)


def lay_anew(tools: Iterable[int]) -> None:
    """The index of all entries of these tools, from the entries themselves."""
    entries = Entry.objects.filter(tool__in=list(tools))
    SerialNumber.objects.filter(entry__in=entries).delete()
    keep(entries.exclude(serial="").iterator(chunk_size=_PIECE))


def wanted_and_there(tools: Iterable[int]) -> dict[int, tuple[set[Indexed], set[Indexed]]]:
    """By tool what the index should have of it, and what it has."""
    found: dict[int, tuple[set[Indexed], set[Indexed]]] = {tool: (set(), set()) for tool in tools}
    for entry in Entry.objects.filter(tool__in=found, serial__gt="").only("tool_id", "serial", "part"):
        found[entry.tool_id][0].update((row.entry_id, row.key, row.part, row.bare) for row in rows_of(entry))
    rows = SerialNumber.objects.filter(entry__tool__in=found)
    for tool, *row in rows.values_list("entry__tool_id", "entry_id", "key", "part", "bare"):
        found[tool][1].add(tuple(row))  # type: ignore[arg-type]
    return found
