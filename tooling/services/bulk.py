"""Many entries written at once: chained like single ones, and stored in pieces."""

from collections.abc import Iterable, Iterator
from itertools import islice

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.pieces import in_pieces
from tooling.models import Entry, Kind, Summary
from tooling.services import chain, serials

_PIECE = 1000


def append(entries: Iterable[Entry], tools: Iterable[int], beside: Iterable[int] = ()) -> int:
    """Writes drafted entries, in recording order, into the histories of `tools`, which are still empty.

    Returns how many were written. `beside` are molds that they name, to be locked with them.

    Order: the locks; number, link and row of each entry with its serial numbers; count and head of each history. The
    caller has checked the entries, and lays states, flags and spans when all of them are there.
    """
    own = set(tools)
    summaries = {one.tool_id: one for one in _locked(own.union(beside)) if one.tool_id in own}
    linked = _linked(entries, summaries)
    written = 0
    while piece := list(islice(linked, _PIECE)):
        Entry.objects.bulk_create(piece)
        serials.keep(piece)
        written += len(piece)
    grown = [one for one in summaries.values() if one.count]
    Summary.objects.bulk_update(grown, ["count", "head"], batch_size=100)
    return written


def _locked(tools: Iterable[int]) -> Iterator[Summary]:
    """In the order in which deeds lock: molds before inserts, each by its id."""
    keys = sorted(tools)
    for is_insert in (False, True):
        for some in in_pieces(keys, _PIECE):
            piece = Summary.objects.filter(tool__in=some)
            piece = piece.filter(tool__kind=Kind.INSERT) if is_insert else piece.exclude(tool__kind=Kind.INSERT)
            yield from piece.select_for_update(of=("self",)).order_by("tool_id")


def _linked(entries: Iterable[Entry], summaries: dict[int, Summary]) -> Iterator[Entry]:
    begun = {key for key, summary in summaries.items() if summary.count}
    for entry in entries:
        summary = summaries[entry.tool_id]
        if entry.tool_id in begun:
            raise Refused(_("Somebody wrote into one of these histories at this very moment. Try once more."))
        entry.number = summary.count + 1
        entry.link = chain.link(summary.head or chain.beginning(entry.tool_id), chain.fields_of(entry))
        summary.count, summary.head = entry.number, entry.link
        yield entry
