"""Mold inserts of a part's tool set: missing from its molds, or in a mold that the part is not made in."""

from collections.abc import Iterator

from tooling.models import SetLine, SetRole, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.bench import mend_of_missing
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import INSTALLED, REMOVED
from tooling.words.usable_set import insert_elsewhere, insert_missing, move_over, take_out_of


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """Said once of the molds that are used together: of the first of them that is asked about."""
    molds = [line for line in asked.tool_set if line.role == SetRole.MOLD]
    inserts = [line for line in asked.tool_set if line.role == SetRole.INSERT]
    if not molds or not inserts:
        return
    keys = {tool.pk for tool in asked.tools}
    for line in molds:
        together = _together(line, molds)
        if line.tool_id in keys and line.tool_id == next(key for key in together if key in keys):
            for group in groups(inserts):
                if any(one.required for one in group) and not any(_mold_of(asked, one) in together for one in group):
                    yield line.tool_id, _missing(asked, line, group)
    used = {line.tool_id for line in molds}
    for line in inserts:
        mold = asked.whereabouts[line.tool_id].mold  # type: ignore[index]
        if line.tool_id in keys and mold is not None and mold.pk not in used:
            text = insert_elsewhere(mold.code, asked.part)
            yield line.tool_id, Reason("insert_elsewhere", line.what, text, take_out_of(mold.code), REMOVED)  # type: ignore[misc]


def groups(lines: list[SetLine]) -> list[list[SetLine]]:
    """The lines of one role: those that are alternatives together, every other one by itself."""
    found: dict[str, list[SetLine]] = {}
    for line in lines:
        found.setdefault(line.alternative.casefold() or f" {line.pk}", []).append(line)
    return list(found.values())


def _together(line: SetLine, molds: list[SetLine]) -> list[int | None]:
    """The molds that a part is made in with this one, in the order of the set: no alternative to it, nor to a half."""
    rivals = [one for one in molds if one is not line and line.alternative and _alike(one, line)]
    away = {one.tool.matched_set for one in rivals if one.tool is not None} - {""}
    return [
        one.tool_id for one in molds
        if one is line or (one not in rivals and one.tool is not None and one.tool.matched_set not in away)
    ]  # fmt: skip


def _alike(one: SetLine, other: SetLine) -> bool:
    return one.alternative.casefold() == other.alternative.casefold()


def _mold_of(asked: Asked, line: SetLine) -> int | None:
    mold = asked.whereabouts[line.tool_id].mold  # type: ignore[index]
    return mold.pk if mold is not None else None


def _missing(asked: Asked, mold: SetLine, group: list[SetLine]) -> Reason:
    """The one that is in no mold is the nearest; else the first has to come out of where it is."""
    line = next((one for one in group if _mold_of(asked, one) is None), group[0])
    insert: Tool = line.tool  # type: ignore[assignment]
    other = asked.whereabouts[insert.pk].mold
    if other is not None:
        said = mold.what, other.code
        return Reason("insert_missing", insert.code, insert_missing(*said), move_over(*said), INSTALLED)
    mend, deed = mend_of_missing(asked, insert, mold.what)
    return Reason("insert_missing", insert.code, insert_missing(mold.what, ""), mend, deed)
