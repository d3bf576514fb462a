"""Many entries written at once: chained like single ones, and stored in pieces."""

from collections.abc import Iterable, Iterator
from itertools import islice

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Entry, Summary
from tooling.services import chain

_PIECE = 1000


def append(entries: Iterable[Entry], tools: Iterable[int]) -> int:
    """Writes drafted entries, in recording order, into histories that are still empty; returns how many.

    Order: the locks; number, link and row of each entry; count and head of each history. The caller has checked the
    entries, and lays states, flags and spans when all of them are there.
    """
    summaries = {one.tool_id: one for one in Summary.objects.filter(tool__in=list(tools)).select_for_update()}
    linked = _linked(entries, summaries)
    written = 0
    while piece := list(islice(linked, _PIECE)):
        Entry.objects.bulk_create(piece)
        written += len(piece)
    grown = [one for one in summaries.values() if one.count]
    Summary.objects.bulk_update(grown, ["count", "head"], batch_size=100)
    return written


def _linked(entries: Iterable[Entry], summaries: dict[int, Summary]) -> Iterator[Entry]:
    begun = {key for key, summary in summaries.items() if summary.count}
    for entry in entries:
        summary = summaries[entry.tool_id]
        if entry.tool_id in begun:
            raise Refused(_("Somebody wrote into one of these histories at this very moment. Try once more."))
        entry.number = summary.count + 1
        entry.link = chain.link(summary.head or chain.genesis(entry.tool_id), chain.fields_of(entry))
        summary.count, summary.head = entry.number, entry.link
        yield entry
