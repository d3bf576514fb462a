"""A mold whose other half is not in the tool set of the part, or is out of use."""

from collections.abc import Iterator

from tooling.models import Kind, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words.deeds import CHANGE, EDIT_SET
from tooling.words.usable_set import add_half, half_missing, half_out_of_use, make_half


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Molds of the set. A half that is in it speaks for itself."""
    matched = [tool for tool in asked.tools if tool.matched_set and tool.kind == Kind.MOLD and tool.pk in asked.lines]
    for tool in matched:
        rest = [one for one in asked.read.halves[tool.matched_set] if one.pk != tool.pk]
        missing = _missing(rest, asked)
        if not rest or (not missing and any(one.pk in asked.lines for one in rest)):
            continue
        yield tool.pk, _reason(asked, tool, [one.code for one in missing or rest], in_use=bool(missing))


def _reason(asked: Asked, tool: Tool, codes: list[str], in_use: bool) -> Reason:
    if in_use:
        text, mend, deed = half_missing(codes, asked.part), add_half(codes), EDIT_SET
        return Reason("half_missing", tool.code, text, mend, deed, override=LEAD, revision=asked.revision)
    return Reason("half_missing", tool.code, half_out_of_use(codes), make_half(), CHANGE, override=LEAD)


def _missing(rest: list[Tool], asked: Asked) -> list[Tool]:
    """The halves in use that are not in the set."""
    in_use = (one for one in rest if not asked.read.states[one.pk].retired and not asked.read.is_making(one))
    return [one for one in in_use if one.pk not in asked.lines]
