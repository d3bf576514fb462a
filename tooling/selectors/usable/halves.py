"""A mold whose other half is not in the tool set of the part, or is out of use."""

from collections.abc import Iterator

from tooling.models import Kind, SetLine, SetRole, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.selectors.usable.set_inserts import groups
from tooling.words.deeds import CHANGE, EDIT_SET
from tooling.words.usable_set import (
    add_half,
    half_missing,
    half_out_of_use,
    half_replaced,
    make_half,
    stand_in_whole,
)


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Molds of the set. A half that is in it speaks for itself."""
    matched = [tool for tool in asked.tools if tool.matched_set and tool.kind == Kind.MOLD and tool.pk in asked.lines]
    for tool in matched:
        rest = [one for one in asked.read.halves[tool.matched_set] if one.pk != tool.pk]
        missing = _missing(rest, asked)
        if not rest or (not missing and any(one.pk in asked.lines for one in rest)):
            continue
        yield tool.pk, _reason(asked, tool, [one.code for one in missing or rest], in_use=bool(missing))


def replaced(asked: Asked, chosen: list[SetLine]) -> Iterator[tuple[int, Reason]]:
    """Molds that are used of a set for whose other half another mold is, which does not close with them."""
    used = {line.pk for line in chosen}
    of_set = groups([line for line in asked.tool_set if line.role == SetRole.MOLD])
    for line in chosen:
        tool = line.tool
        if tool is None or not tool.matched_set:
            continue
        for group in of_set:
            half = next(
                (one for one in group if one.tool is not None and one.tool.matched_set == tool.matched_set), None
            )
            other = next((one for one in group if one.pk in used), None)
            if half is not None and other is not None and other.tool.matched_set != tool.matched_set:  # type: ignore[union-attr]
                said = half_replaced(half.what, other.what), stand_in_whole(), EDIT_SET
                reason = Reason("half_missing", tool.code, *said, override=LEAD, revision=asked.revision)
                yield tool.pk, reason
                break


def _reason(asked: Asked, tool: Tool, codes: list[str], in_use: bool) -> Reason:
    if in_use:
        text, mend, deed = half_missing(codes, asked.part), add_half(codes), EDIT_SET
        return Reason("half_missing", tool.code, text, mend, deed, override=LEAD, revision=asked.revision)
    return Reason("half_missing", tool.code, half_out_of_use(codes), make_half(), CHANGE, override=LEAD)


def _missing(rest: list[Tool], asked: Asked) -> list[Tool]:
    """The halves in use that are not in the set."""
    in_use = (one for one in rest if not asked.read.states[one.pk].retired and not asked.read.is_making(one))
    return [one for one in in_use if one.pk not in asked.lines]
