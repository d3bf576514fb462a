"""Tags were printed: what stood on them is kept, and taken back where they did not come out."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from shared.pieces import in_pieces
from tooling.models import Person, TagPrint, TagRun
from tooling.selectors.tag_facts import facts, why
from tooling.services.tags.wanted import PIECE, keep

_KEPT = ("said", "printed_at", "printed_by", "run", "spoilt_at", "lost_at", "lost_by", "lost_recorded_by", "wanted")


@transaction.atomic
def mark(
    said: Mapping[int, Mapping[str, str]],
    *,
    by: Person,
    at: datetime,
    count: int,
    given: Mapping[str, Any],
    job: int | None = None,
) -> TagRun:
    """Keeps what stands on the tags of these tools, by their keys; they leave the list of tags to print.

    `said` was read before the file was made: what was changed while it was made is wanted anew, never missed.
    `count`: all tags in the file, those of places and of holds as well, of which nothing is kept.

    Order: the run; the row of each tool, in pieces.
    """
    run = TagRun.objects.create(at=at, by=by, count=count, given=dict(given), job=job)
    for piece in in_pieces(sorted(said), PIECE):
        list(TagPrint.objects.select_for_update(of=("self",)).filter(tool__in=piece).order_by("pk").values_list("pk"))
        now = facts(piece, at)
        rows = [TagPrint(tool_id=pk, said=dict(said[pk]), printed_at=at, printed_by=by, run=run) for pk in now]
        for row in rows:
            row.wanted = why(row, now[row.tool_id])
        TagPrint.objects.bulk_create(
            rows, batch_size=PIECE, update_conflicts=True, unique_fields=["tool"], update_fields=_KEPT
        )
    return run


@transaction.atomic
def put_back(run: TagRun, *, by: Person, at: datetime) -> int:
    """They did not come out: the tools of that print stand on the list again. Returns how many; twice is harmless.

    A tool that was printed again since then is another print's.
    """
    TagRun.objects.filter(pk=run.pk, put_back_at=None).update(put_back_at=at, put_back_by=by)
    mine = TagPrint.objects.filter(run=run, spoilt_at=None)
    keys = list(mine.values_list("pk", flat=True))
    mine.update(spoilt_at=at)
    keep(keys)
    return len(keys)
