"""How well a tool holds vacuum, where the part is bagged in it. No limit is built in: we know of none."""

from collections.abc import Iterator

from tooling.models import Kind
from tooling.selectors.usable.asked import Asked, bagged
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import READING
from tooling.words.usable import vacuum_drop, vacuum_not_measured


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The last reading of each mold since its surface was worked on: to know, or that nobody has measured."""
    if not bagged(asked.revision):
        return
    for tool in asked.tools:
        if tool.kind not in (Kind.MOLD, Kind.PLUG):
            continue
        known, at, worked = asked.read.vacuum_of(tool)
        # What was measured with a repair is of its moment.
        if at is not None and (worked is None or at >= worked):
            text = vacuum_drop(known.get("value", ""), known.get("unit", ""), at, asked.at, asked.shop.zone)
            yield tool.pk, Reason("vacuum_drop", tool.code, text, stops=False)
        else:
            text = vacuum_not_measured(repaired=at is not None)
            yield tool.pk, Reason("vacuum_not_measured", tool.code, text, deed=READING, stops=False)
