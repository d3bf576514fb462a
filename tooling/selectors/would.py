"""What entries that are not written yet would do to the tools as they stand today. Nothing is written or locked."""

import json
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from hashlib import sha256

from django.utils.translation import gettext as _

from tooling.calc.entry import Entry as Fact
from tooling.calc.membership import TwoMolds
from tooling.models import Entry, Kind, Shop, Tool
from tooling.selectors.release import Flagged, IfOtherwise, Standing, standings
from tooling.services.families import reached_by
from tooling.words.family import coat_after
from tooling.words.flags import flag_words
from tooling.words.status import sentence
from tooling.words.when import moment

# Stands for the numbers that the database would give.
_NOT_YET = 2**62
# A late entry can change the flags of hundreds; as many are named one by one.
NAMED = 4


@dataclass(frozen=True, slots=True)
class Flags:
    """Flags that come or go: the first of them in words, and how many more there are."""

    words: tuple[str, ...] = ()
    more: int = 0

    def __bool__(self) -> bool:
        return bool(self.words)


@dataclass(frozen=True, slots=True)
class Change:
    """One surface as it is and as it would be; `after` where the number of its next coat's pull changes."""

    tool: Tool
    now: str
    then: str
    after: tuple[str, str] | None
    come: Flags
    go: Flags

    @property
    def matters(self) -> bool:
        """Whether anybody would be told otherwise of it today."""
        return self.now != self.then or bool(self.come or self.go)


@dataclass(frozen=True, slots=True)
class Would:
    """What would change, the tool itself first; where nothing does, how the tool stays."""

    changes: tuple[Change, ...]
    stays: str = ""

    @property
    def matters(self) -> bool:
        """Whether anything is otherwise today but a number."""
        return any(change.matters for change in self.changes)

    @property
    def key(self) -> str:
        """The same for the same changes: what was shown still holds."""
        said = [(one.tool.pk, one.now, one.then, one.after, one.come.words, one.go.words) for one in self.changes]
        return sha256(json.dumps([said, self.stays]).encode()).hexdigest()[:16]


def would(entries: Sequence[Entry], at: datetime) -> Would | None:
    """What these would make of the tools that they reach; None where they cannot be at all."""
    if not entries:
        return None
    at = max(at, *(entry.at for entry in entries))
    tools = {entry.tool_id: entry.tool for entry in entries}
    reached = set().union(*(reached_by(entry.tool, entry.mold_id) for entry in entries))
    asked = list(Tool.objects.filter(pk__in=reached))
    facts = [_fact(entry, _NOT_YET + index) for index, entry in enumerate(entries)]
    try:
        then = standings(asked, at, otherwise=IfOtherwise(more=tuple(facts)), kinds=Kind.values)
    except TwoMolds:
        return None
    pairs = sorted(
        zip(standings(asked, at, kinds=Kind.values), then, strict=True), key=lambda pair: pair[0].tool.pk not in tools
    )
    zone = Shop.current().zone
    held = {entry.tool_id: entry.payload.get("reason", "") for entry in entries if entry.kind == "hold"}
    made = (_change(now, then, at, zone, held.get(now.tool.pk, "")) for now, then in pairs)
    changes = tuple(filter(None, made))
    return Would(changes, "" if changes or not pairs else _said(pairs[0][0], at, zone))


def _fact(entry: Entry, number: int) -> Fact:
    made = entry.as_calc()
    made.id = number
    return made


def _change(now: Standing, then: Standing, at: datetime, zone: tzinfo, held: str) -> Change | None:
    before, after = _after(now), _after(then)
    come, go = _differences(now, then)
    change = Change(
        now.tool,
        _said(now, at, zone),
        _said(then, at, zone, held),
        (before, after) if before != after else None,
        *(Flags(tuple(_in_words(one[:NAMED], now.tool, at, zone)), len(one[NAMED:])) for one in (come, go)),
    )
    return change if change.matters or change.after else None


def _said(one: Standing, at: datetime, zone: tzinfo, held: str = "") -> str:
    kind = one.tool.kind
    if kind == Kind.TRIM_MASK and one.status.status not in ("held", "retired"):
        return _("Not held.")
    return sentence(
        one.status, family=one.family, now=at, zone=zone, own=one.own, on=one.on, kind=kind, held=held
    ).whole


def _after(one: Standing) -> str:
    after = one.own.wax_after_pull
    return coat_after(one.family, after) if after is not None else ""


def _differences(now: Standing, then: Standing) -> tuple[list[Flagged], list[Flagged]]:
    """What comes and what goes; a flag that a corrected entry takes over from the one it replaces stays."""
    had, has = (Counter((flag.flag, flag.tool) for flag in one.flags) for one in (now, then))
    return _surplus(then.flags, has - had), _surplus(now.flags, had - has)


def _surplus(flags: Sequence[Flagged], counts: Counter[tuple[str, Tool | None]]) -> list[Flagged]:
    """As many of each as there are too many: the last ones, for a late entry changes what comes after it."""
    found = []
    for flag in reversed(flags):
        if counts[flag.flag, flag.tool] > 0:
            counts[flag.flag, flag.tool] -= 1
            found.append(flag)
    return found[::-1]


def _in_words(flags: Sequence[Flagged], tool: Tool, at: datetime, zone: tzinfo) -> Iterator[str]:
    """Each with the entry that it is on; the one that is not written yet needs none."""
    for flag in flags:
        words = flag_words(flag.flag, tool.kind)
        entry = Entry.objects.filter(tool=flag.tool or tool, number=flag.number).first()
        yield f"{words} ({moment(entry.at, at, zone)})" if entry is not None else words
