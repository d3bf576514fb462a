"""The wanted parts as they stand: the tool set of each, and when it can be laid up, in one pass for all of them."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo

from shared.units import METRIC
from tooling.models import SetRole
from tooling.selectors.lay_up_from import of_each
from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.tool_set import ToolSet, tool_sets
from tooling.selectors.wanted import OnList, on_list


@dataclass(frozen=True, slots=True)
class WantedNow:
    """A wanted part; its set, and when it can be laid up, where more of it is still to be: else None.

    follows: what stands before it on the list and is to be laid up in the same mold; "" for nothing.
    """

    on: OnList
    answer: ToolSet | None = None
    found: LayUpFrom | None = None
    follows: str = ""


def wanted_now(
    at: datetime, zone: tzinfo, *, by_today: bool = False, units: str = METRIC, of: Iterable[OnList] | None = None
) -> list[WantedNow]:
    """All parts on the list, in a fixed number of queries, however many there are and however long histories.

    by_today: without those that are wanted for a day to come. of: what `not_put_away` said, where that was asked.
    """
    listed = on_list(at, zone, by_today=by_today, of=of)
    open_ones = {one.revision.pk: one.revision for one in listed if one.revision is not None and one.progress.missing}
    answers = tool_sets(list(open_ones.values()), at, units=units) if open_ones else {}
    found = of_each(answers.values()) if answers else {}
    shown, taken = [], {}
    for one in listed:
        key = one.revision.pk if one.revision is not None and one.progress.missing else 0
        answer = answers.get(key)
        molds = _molds(answer) if answer is not None else []
        follows = next((taken[mold] for mold in molds if mold in taken), "")
        taken = dict.fromkeys(molds, one.name) | taken
        shown.append(WantedNow(one, answer, found.get(key), follows))
    return shown


def _molds(answer: ToolSet) -> list[int | None]:
    """The molds that are offered for it."""
    return [line.line.tool_id for line in answer.needed(SetRole.MOLD)]


def tools_wanted(shown: Iterable[WantedNow]) -> dict[int, LayUpFrom | None]:
    """The molds and mold inserts that are offered for these parts, and when the whole set of each can be laid up.

    None where nobody can say; of several parts the first that can be laid up.
    """
    found: dict[int, LayUpFrom | None] = {}
    for one in sorted(shown, key=_first):
        when = one.found if one.found is not None and one.found.lay_up_at is not None else None
        for line in one.answer.needed(SetRole.MOLD, SetRole.INSERT) if one.answer is not None else ():
            if line.line.tool_id is not None:
                found.setdefault(line.line.tool_id, when)
    return found


def _first(one: WantedNow) -> datetime:
    at = one.found.lay_up_at if one.found is not None else None
    return at or datetime.max.replace(tzinfo=UTC)
