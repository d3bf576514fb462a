"""What became of the tags of one print."""

from dataclasses import dataclass

from tooling.models import TagPrint, TagRun
from tooling.selectors.tags_wanted import wanted


@dataclass(frozen=True, slots=True)
class OfPrint:
    """`last`: tools whose last tag is of this print, and good. `listed`: of its tools, those on the list now."""

    last: int
    listed: int


def of_print(run: TagRun) -> OfPrint:
    """Counted anew each time: a tool that was printed again since then is another print's."""
    mine = TagPrint.objects.filter(run=run)
    return OfPrint(last=mine.filter(spoilt_at=None).count(), listed=wanted().filter(run=run).count())
