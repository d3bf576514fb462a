"""The lines of a tool's history in words: what happened, what it was before a correction, why it is void, its flags."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.entry import INSERT_KINDS, MADE_KINDS
from tooling.models.serials import split
from tooling.words.about import HISTORY_GROUPS
from tooling.words.entries import Around, Told, told
from tooling.words.flags import flag_words
from tooling.words.own import quoted

# Written down later than this after it happened is said beside it.
LATE = timedelta(hours=12)


@dataclass(frozen=True, slots=True)
class Taken:
    """A correction or a void: when it was written, by whom, why, and what stood there before."""

    at: datetime
    who: str
    why: str
    before: Told | None = None
    was_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Shown:
    """One line. `where` is the other tool whose entry it is, or ""; `late` when it was written, where that was late.

    `numbers`: its serial numbers, of what makes a part; `count`: the number of the count that met or missed it;
    `look`: whether a checklist was answered with it, so that it has a page of its own.
    `pictures`: those that were given with the entry; `lead_note`: where it was told to the lead, whether one saw it.
    """

    entry: Any
    told: Told
    where: str
    late: datetime | None
    void: Taken | None
    corrections: list[Taken]
    flags: list[str]
    pictures: tuple[Any, ...]
    numbers: list[str]
    lead_note: Any
    count: int | None = None
    look: bool = False


@dataclass(frozen=True, slots=True)
class Folded:
    """A year of the history, folded: how many entries, and of each group its key, its words and how many."""

    year: int
    count: int
    groups: list[tuple[str, str, int]]


def folded(history: Any) -> list[Folded]:
    """The years of a history of which not all is shown."""
    if not history.older:
        return []
    return [Folded(year.year, year.count, _groups(year.groups)) for year in history.folded]


def _groups(counts: dict[str, int]) -> list[tuple[str, str, int]]:
    return [(key, str(word), counts[key]) for key, word in HISTORY_GROUPS if key in counts]


def shown(lines: Iterable[Any], tool: Any, around: Around) -> list[Shown]:
    """The lines of a timeline, on the page of a tool; without one each says of which tool it is."""
    return [_shown(line, tool, around) for line in lines]


def _shown(line: Any, tool: Any, around: Around) -> Shown:
    entry = line.entry
    elsewhere = tool is None or entry.tool_id != tool.pk
    versions = (entry, *line.before)
    pairs = pairwise(versions)
    made = entry.kind in MADE_KINDS
    late = entry.recorded_by_id is not None and entry.recorded_at - entry.at > LATE
    return Shown(
        entry=entry,
        told=_on_its_mold(entry) if elsewhere and entry.kind in INSERT_KINDS else told(entry, around, serial=not made),
        where=entry.tool.code if elsewhere else "",
        late=entry.recorded_at if late else None,
        void=_void(line.void) if line.void is not None else None,
        corrections=[_correction(new, old, around) for new, old in pairs],
        flags=[_flag(on, flag, entry.tool.kind) for on, flag in line.flags],
        pictures=line.pictures,
        numbers=split(entry.serial) if made else [],
        lead_note=line.lead_note,
        count=entry.payload.get("counted"),
        look=bool(entry.payload.get("answers")),
    )


def _on_its_mold(entry: Any) -> Told:
    """An insert installed or removed, as the mold tells it."""
    text = _("Mold insert installed") if entry.kind == "installed" else _("Mold insert removed")
    note = entry.payload.get("note")
    return Told(text, (quoted(note),) if note else ())


def _void(entry: Any) -> Taken:
    return Taken(entry.recorded_at, _who(entry), _why(entry, "reason"))


def _correction(new: Any, old: Any, around: Around) -> Taken:
    was_at = old.at if old.at != new.at else None
    return Taken(new.recorded_at, _who(new), _why(new, "why"), told(old, around), was_at)


def _why(entry: Any, said: str) -> str:
    words = entry.payload.get(said, "")
    return quoted(words) if words else ""


def _who(entry: Any) -> str:
    person = entry.recorded_by or entry.by
    return person.name if person is not None else ""


def _flag(on: Any, flag: str, kind: str) -> str:
    words = flag_words(flag, kind)
    return words if on is None else f"{on.code}: {words}"
