"""The steps of one tool as a line: what is done, where it is, what is next. Plain values in, nothing is asked."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from tooling.models import Entry

# Where it is drawn through, what was left out or not written, where it is, what is next, what comes after.
DONE, PASSED, NOW, NEXT, LATER = "done", "passed", "now", "next", "later"
# What says by itself how far a tool is; a reading is taken at any time.
_TELLING = frozenset({"sealer", "coat", "film", "lay_up", "pull"})


@dataclass(frozen=True, slots=True)
class OnLine:
    """A step of a line. `entries`: what was written of it, the first first. `own`: it is on no list of the shop."""

    name: str
    stands: str
    by_entry: str = ""
    note: str = ""
    entries: tuple[Entry, ...] = ()
    own: bool = False

    @property
    def began(self) -> Entry | None:
        """The first that was written of it since it was come to."""
        return self.entries[0] if self.entries else None


@dataclass(frozen=True, slots=True)
class StepLine:
    """The steps of a tool in their order. `accepted`: the entry that ended its making, once it is made."""

    steps: tuple[OnLine, ...]
    has_list: bool
    accepted: Entry | None = None

    @property
    def now(self) -> OnLine | None:
        """Where it is; None before the first step."""
        return next((one for one in self.steps if one.stands == NOW), None)

    @property
    def next(self) -> OnLine | None:
        """What comes next; None behind the last step, and where the shop has no list for its kind."""
        return next((one for one in self.steps if one.stands == NEXT), None)

    @property
    def is_through(self) -> bool:
        """Whether all steps of its list are done: what is left is to accept it."""
        return self.has_list and self.next is None

    @property
    def is_begun(self) -> bool:
        """Whether anything was written of it."""
        return any(one.entries for one in self.steps)

    @property
    def entries(self) -> list[Entry]:
        """All that was written of its steps."""
        return [entry for one in self.steps for entry in one.entries]

    def reached(self, *by_entry: str) -> bool:
        """Whether it has come to a step of its list that is logged so, or beyond one."""
        at = [place for place, one in enumerate(self.steps) if one.stands in (DONE, PASSED, NOW)]
        named = [place for place, one in enumerate(self.steps) if one.by_entry in by_entry]
        return bool(at and named and min(named) <= max(at))


@dataclass
class _Walk:
    """How far it has come.

    at: the place in the list, -1 before the first. met: what was written of each. own: its own steps behind each.
    """

    listed: Sequence[Any]
    at: int = -1
    met: dict[int, list[Entry]] = field(default_factory=dict)
    own: dict[int, list[tuple[str, list[Entry]]]] = field(default_factory=dict)
    on_own: bool = False

    def come_to(self, place: int, entry: Entry) -> None:
        """A step of the list was written. Where it went back, what was further on is no longer done."""
        if place < self.at or (place == self.at and self.on_own):
            self.met = {one: entries for one, entries in self.met.items() if one < place}
            self.own = {one: steps for one, steps in self.own.items() if one < place}
        self.met.setdefault(place, []).append(entry)
        self.at, self.on_own = place, False

    def come_to_own(self, name: str, entry: Entry) -> None:
        """A step that is on no list: it stands behind the last one of the list."""
        there = self.own.setdefault(self.at, [])
        if there and there[-1][0].upper() == name.upper() and self.on_own:
            there[-1][1].append(entry)
            return
        there.append((name, [entry]))
        self.on_own = True


def line_of(listed: Sequence[Any], written: Iterable[Entry], accepted: Entry | None = None) -> StepLine:
    """The line of a tool.

    listed: the steps of its kind, each with `name`, `by_entry` and `note`. written: in the order in which it happened,
    its standing entries `making`, and those that a step may be logged as. An entry other than `making` is a step of the
    list only behind where the tool was then; a reading only where nothing is left out between.
    """
    place = {one.name.upper(): number for number, one in enumerate(listed)}
    walk = _Walk(listed)
    for entry in written:
        name = str(entry.payload.get("step", "")).strip() if entry.kind == "making" else ""
        if name.upper() in place:
            walk.come_to(place[name.upper()], entry)
        elif name:
            walk.come_to_own(name, entry)
        elif entry.kind != "making":
            _logged(walk, entry)
    return StepLine(tuple(_standing(walk, accepted is not None)), bool(listed), accepted)


def _logged(walk: _Walk, entry: Entry) -> None:
    """An entry that is a step: another of the step that it is at, else the next such step."""
    at = walk.at
    if at >= 0 and not walk.on_own and walk.listed[at].by_entry == entry.kind:
        walk.met.setdefault(at, []).append(entry)
        return
    ahead = (number for number in range(at + 1, len(walk.listed)) if walk.listed[number].by_entry == entry.kind)
    found = next(ahead, None)
    if found is not None and (entry.kind in _TELLING or found == at + 1):
        walk.come_to(found, entry)


def _standing(walk: _Walk, is_made: bool) -> Iterator[OnLine]:
    """The steps of the list and its own between them, each with how it stands."""
    yield from _own(walk, -1, is_made)
    for number, one in enumerate(walk.listed):
        entries = tuple(walk.met.get(number, ()))
        step = OnLine(one.name, LATER, one.by_entry, str(one.note), entries)
        if number <= walk.at:
            is_now = number == walk.at and not walk.on_own and not is_made
            step = replace(step, stands=NOW if is_now else DONE if entries else PASSED)
        elif is_made:
            step = replace(step, stands=PASSED)
        elif number == walk.at + 1:
            step = replace(step, stands=NEXT)
        yield step
        yield from _own(walk, number, is_made)


def _own(walk: _Walk, behind: int, is_made: bool) -> Iterator[OnLine]:
    there = walk.own.get(behind, ())
    for number, (name, entries) in enumerate(there, 1):
        is_now = behind == walk.at and walk.on_own and number == len(there) and not is_made
        yield OnLine(name, NOW if is_now else DONE, entries=tuple(entries), own=True)
