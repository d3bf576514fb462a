"""What was wanted and is done leaves the list: a week later, or at once where its part is wanted anew."""

from collections.abc import Collection, Iterable
from datetime import datetime

from tooling.models import Entry, Shop, Wanted
from tooling.selectors.wanted import KEPT, OnList, done_before


def put_away(done: Iterable[OnList], at: datetime, anew: Collection[int] = ()) -> None:
    """Takes off for good what is done for long, and what is done of the parts that are wanted `anew`."""
    for one in done:
        done_at = one.progress.done_at
        if done_at is not None and (one.row.part_id in anew or done_at <= at - KEPT):
            Wanted.objects.on_list().filter(pk=one.row.pk).update(off_at=max(done_at, one.row.at))


def keep(entry: Entry) -> None:
    """A pull of a part that is done for long puts it away, so that the list never reads more and more of its pulls."""
    if entry.kind != "pull" or not entry.part:
        return
    at = entry.recorded_at
    if Wanted.objects.on_list().filter(part__number__iexact=entry.part, at__lte=at - KEPT).exists():
        put_away(done_before(at, Shop.current().zone, entry.part), at)
