"""What a tool made in a stretch of time: every part with its serial numbers, and how each came off."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, tzinfo

from tooling.calc.entry import Entry as Fact
from tooling.calc.makings import Making, makings
from tooling.calc.membership import reached
from tooling.calc.order import Placed, by_key
from tooling.models import Kind, Person, Shop, Tool
from tooling.models.serials import split
from tooling.selectors.history import History
from tooling.selectors.recipes import recipe_book

PULLED, LOST, GIVEN_UP, STILL_IN, UNKNOWN, TRIMMED = "pulled", "lost", "given_up", "still_in", "unknown", "trimmed"


@dataclass(frozen=True, slots=True)
class Part:
    """What one lay-up or pull made, or one cut trimmed. `tool`: where it was written, the mold of a mold insert."""

    tool: Tool
    making: Making
    numbers: tuple[str, ...]
    how: str

    @property
    def lay_up(self) -> Fact | None:
        """Its lay-up."""
        return self.making.lay_up[2] if self.making.lay_up is not None else None

    @property
    def end(self) -> Fact | None:
        """Its pull, the cut, or that it was given up."""
        return self.making.end[2] if self.making.end is not None else None

    @property
    def part(self) -> str:
        """The part's number."""
        return next((one.part for one in (self.end, self.lay_up) if one is not None and one.part), "")

    @property
    def count(self) -> int:
        """How many parts that were; a lay-up that has not been pulled has as many as it names, and one at least."""
        if self.end is not None and self.end.count:
            return self.end.count
        return max(1, len(self.numbers))

    @property
    def without(self) -> int:
        """How many of them have no serial number."""
        return max(0, self.count - len(self.numbers))

    @property
    def came_off(self) -> str:
        """How it came off; "" where nobody said."""
        return self.end.came_off if self.end is not None else ""


@dataclass(frozen=True, slots=True)
class MadeIn:
    """The parts of a stretch, newest first; the names of who laid up and pulled, by their keys."""

    tool: Tool
    since: date | None
    until: date | None
    zone: tzinfo
    parts: list[Part]
    people: dict[int, str] = field(default_factory=dict)

    def counted(self, how: str) -> int:
        """How many parts ended so."""
        return sum(one.count for one in self.parts if one.how == how)

    @property
    def numbered(self) -> int:
        """How many have a serial number."""
        return sum(len(one.numbers) for one in self.parts)

    @property
    def without(self) -> int:
        """How many came out and have none."""
        return sum(one.without for one in self.parts if one.how in (PULLED, LOST, TRIMMED))


def made_in(tool: Tool, since: date | None = None, until: date | None = None) -> MadeIn:
    """What was laid up in a tool or came out of it from a day to a day, both included, by the days of the shop.

    A mold insert has the parts of its molds that were made while it was in; a trim mask those that were cut with it.
    The same queries however long the histories are.
    """
    zone = Shop.current().zone
    history = History(recipe_book(), zone)
    found = [one for one in parts_of(tool, history) if _is_within(one, since, until, zone)]
    found.sort(key=lambda one: by_key(one.making.first), reverse=True)
    by = {fact.by for one in found for fact in (one.lay_up, one.end) if fact is not None}
    people = dict(Person.objects.filter(pk__in=by - {None}).values_list("pk", "name"))
    return MadeIn(tool, since, until, zone, found, people)


def parts_of(tool: Tool, history: History, molds: Mapping[int, Tool] | None = None) -> Iterator[Part]:
    """All that went through a tool; of a mold insert, through its molds while it was in.

    `molds`: where these and their histories are read already.
    """
    if tool.kind != Kind.INSERT:
        return (_part(tool, one) for one in makings(history.placed(tool.pk)))
    stays = history.stays(tool.pk)
    if molds is None:
        molds = Tool.objects.in_bulk({stay.mold for stay in stays})
        history.read(molds)
    keys = sorted({stay.mold for stay in stays})  # type: ignore[type-var]
    return (
        _part(molds[key], one)  # type: ignore[index]
        for key in keys
        for one in makings(history.placed(key))  # type: ignore[arg-type]
        if reached(stays, key, [placed[0] for placed in (one.lay_up, one.end) if placed is not None])
    )


def _part(tool: Tool, making: Making) -> Part:
    facts = [one[2] for one in (making.end, making.lay_up) if one is not None]
    numbers = dict.fromkeys(number for fact in facts for number in split(fact.serial))
    return Part(tool, making, tuple(numbers), _how(making))


def _how(making: Making) -> str:
    if making.end is None:
        return UNKNOWN if making.over else STILL_IN
    kind, came_off = making.end[2].kind, making.end[2].came_off
    if kind == "abandoned":
        return GIVEN_UP
    if kind == "used":
        return TRIMMED
    return LOST if came_off == "lost" else PULLED


def _is_within(part: Part, since: date | None, until: date | None, zone: tzinfo) -> bool:
    return any(_on_day(one, since, until, zone) for one in (part.making.lay_up, part.making.end) if one is not None)


def _on_day(placed: Placed, since: date | None, until: date | None, zone: tzinfo) -> bool:
    day = placed[0].astimezone(zone).date()
    return (since is None or since <= day) and (until is None or day <= until)
