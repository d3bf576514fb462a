"""Where a tool is: lent, lost, or at a known place that is not its home."""

from collections.abc import Iterator

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import HAND_BACK, MOVE
from tooling.words.usable_set import bring_back, find_it, lent, not_home, place_unknown


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The tool itself. That it is not home is only said to whoever has yet to get it."""
    for tool in asked.tools:
        where = asked.whereabouts[tool.pk]
        if where.mold is not None:
            continue
        if where.lent:
            yield tool.pk, Reason("lent", tool.code, lent(where), bring_back(), HAND_BACK)
        elif where.lost:
            yield tool.pk, Reason("place_unknown", tool.code, place_unknown(), find_it(), MOVE)
        elif asked.gathering and where.away and where.place is not None and where.home is not None:
            text = not_home(where.place.name, where.home.name)
            yield tool.pk, Reason("not_home", tool.code, text, deed=MOVE, stops=False)
