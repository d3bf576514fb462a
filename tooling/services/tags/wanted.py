"""Which tools want a tag, kept level with what is printed on it."""

from collections import defaultdict
from collections.abc import Iterable, Sequence

from django.db import DEFAULT_DB_ALIAS, connections, transaction

from shared import clock
from shared.pieces import in_pieces
from tooling.models import Place, Summary, TagPrint, TagWanted, Tool
from tooling.selectors.tag_facts import facts, why

PIECE = 500


def keep(tools: Iterable[int]) -> None:
    """Says anew whether these tools want a tag. Called by every service that changes what stands on one."""
    for piece in in_pieces(sorted(set(tools)), PIECE):
        _keep(piece)


@transaction.atomic
def _keep(tools: Sequence[int]) -> None:
    # Read only when the rows are locked: a tag that is printed at this moment must not be judged by what it was.
    # In one order, so that nobody waits for somebody who waits for him.
    locked = TagPrint.objects.select_for_update(of=("self",)).filter(tool__in=tools).order_by("pk")
    rows = {one.tool_id: one for one in locked}
    now = facts(tools, clock.now())
    new = [TagPrint(tool_id=pk, wanted=TagWanted.NEW) for pk in now if pk not in rows]
    TagPrint.objects.bulk_create(new, batch_size=PIECE, ignore_conflicts=True)
    other: dict[str, list[int]] = defaultdict(list)
    for pk, row in rows.items():
        if row.wanted != (wanted := why(row, now[pk])):
            other[wanted].append(pk)
    for wanted, keys in other.items():
        TagPrint.objects.filter(tool__in=keys).update(wanted=wanted)


def keep_home_of(place: Place) -> None:
    """The same for all tools at home at a place, after it changed its name."""
    keep(Summary.objects.filter(home=place).values_list("tool_id", flat=True))


def fill(using: str = DEFAULT_DB_ALIAS) -> None:
    """Rows for the tools that have none yet, as after an upgrade. Does nothing before all tables are there."""
    tables = set(connections[using].introspection.table_names())
    if using == DEFAULT_DB_ALIAS and {TagPrint._meta.db_table, Summary._meta.db_table} <= tables:
        keep(Tool.objects.filter(tag=None, summary__isnull=False).values_list("pk", flat=True))
