"""What is carried with a tool that has a part in it, and what then stays behind."""

from collections.abc import Iterator, Sequence

from shared import clock
from tooling.calc.state import decode
from tooling.models import Place, Shop, Summary, Tool
from tooling.selectors.matched import halves_of, same_part
from tooling.words.moves import half_stays, part_cures
from tooling.words.places import lies


def part_carried(tool: Tool, summary: Summary, *, to: Place | None = None, along: Sequence[Tool] = ()) -> str:
    """The part in it, until when it stays in, and where its other halves stay with it.

    along: what is put at the same place with it.
    """
    inside = decode(summary.state).part
    earliest = inside.earliest_pull if inside is not None else None
    staying = _staying(tool, summary, to, along)
    return " ".join([part_cures(summary, tool.kind, earliest, clock.now(), Shop.current().zone), *staying])


def _staying(tool: Tool, summary: Summary, to: Place | None, along: Sequence[Tool]) -> Iterator[str]:
    halves = [one for one in halves_of(tool) if one not in along]
    found = Summary.objects.filter(tool__in=halves).select_related("tool", "home", "seen_place", "in_mold_of")
    for half in found.order_by("tool__code") if halves else ():
        if same_part(summary, half) and (to is None or half.lies != to.pk):
            yield half_stays(half.tool.code, lies(half))
