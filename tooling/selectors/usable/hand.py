"""A left-hand tool where the part is made in a right-hand mold, or the other way round."""

from collections.abc import Iterator

from tooling.models import SetLine, SetRole
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import EDIT_SET, REMOVED
from tooling.words.usable_set import other_hand, wrong_hand


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """An insert in a mold of the other hand; and what the set names beside molds that are all of the other hand."""
    for tool in (one for one in asked.tools if one.hand):
        for surface in asked.surfaces.get(tool.pk, ())[1:]:
            if surface.tool.hand not in ("", tool.hand):
                text = wrong_hand(surface.tool.code, surface.tool.hand, tool.code)
                yield tool.pk, Reason("wrong_hand", surface.tool.code, text, other_hand(), REMOVED)
    yield from beside(asked, [line for line in asked.tool_set if line.role == SetRole.MOLD])


def beside(asked: Asked, molds: list[SetLine]) -> Iterator[tuple[int, Reason]]:
    """What the set names beside molds that are all of the other hand."""
    for tool in asked.tools:
        line = asked.lines.get(tool.pk)
        if line is not None and line.role != SetRole.MOLD and not fits(line, molds):
            text = wrong_hand(tool.code, tool.hand, molds[0].what)
            yield tool.pk, Reason("wrong_hand", tool.code, text, other_hand(), EDIT_SET, revision=asked.revision)


def fits(line: SetLine, molds: list[SetLine]) -> bool:
    """Whether a line goes with one of the molds by its hand."""
    hands = {mold.tool.hand for mold in molds if mold.tool is not None}
    return line.tool is None or not hands or not line.tool.hand or bool(hands & {"", line.tool.hand})
