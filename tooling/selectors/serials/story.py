"""The story of one serial number: what made it and in what state of release, who was at it, and what stood around it.

Told twice where it is asked as it was known then: each by what was recorded up to its moment.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime

from tooling.calc.entry import Entry as Fact
from tooling.calc.makings import Making, makings
from tooling.calc.order import Key, Placed, by_key
from tooling.calc.tape import Tape
from tooling.models import Entry, Kind, Shop, Tool
from tooling.models.serials import split, whole_key
from tooling.selectors.history import History
from tooling.selectors.recipes import recipe_book
from tooling.selectors.serials.around import Around, around, of_mask
from tooling.selectors.serials.folding import Before, OnIt, before, inside, on_it, reached_by, tape_after
from tooling.selectors.serials.looked_up import Named


@dataclass(frozen=True, slots=True)
class SurfaceThen:
    """One surface that the part lay on: at the lay-up, at the pull, what was on it, and how the part came off it."""

    tool: Tool
    at_lay_up: Before | None
    at_pull: Before | None
    tape_after: Tape | None
    on: OnIt
    came_off: str
    around: Around


@dataclass(frozen=True, slots=True)
class Made:
    """The part in one mold: its making, and the mold's own surface before those of the inserts that were in it."""

    tool: Tool
    making: Making
    surfaces: tuple[SurfaceThen, ...]

    @property
    def inserts(self) -> list[Tool]:
        """The mold inserts that were in."""
        return [one.tool for one in self.surfaces if one.tool.pk != self.tool.pk]


@dataclass(frozen=True, slots=True)
class Trimmed:
    """The part cut against a trim mask."""

    tool: Tool
    used: Fact
    around: Around


@dataclass(slots=True)
class Story:
    """The answer. `entries` has every entry that is told of, by its key."""

    named: Named
    known_at: datetime | None
    made: list[Made] = field(default_factory=list)
    trimmed: list[Trimmed] = field(default_factory=list)
    entries: dict[int, Entry] = field(default_factory=dict)

    def entry(self, of: Fact | Placed) -> Entry:
        """The row of an entry that is told of."""
        return self.entries[(of if isinstance(of, Fact) else of[2]).id]


@dataclass(frozen=True, slots=True)
class Told:
    """A story as it is known now and, where that was asked for, as it was known then; None: nothing of it was."""

    now: Story
    then: Story | None
    known_at: datetime | None
    shop: Shop
    history: History
    tools: dict[int, Tool]

    def facts(self) -> Iterator[Fact]:
        """Every entry of the tools that it is told of, void ones too."""
        inserts = {one.pk for story in (self.now, self.then) if story for made in story.made for one in made.inserts}
        for pk in self.tools.keys() | inserts:
            yield from self.history.log(pk)


def told(now: Named, then: Named | None = None, known_at: datetime | None = None, others: Iterable[Named] = ()) -> Told:
    """The story of a number that `looked_up` found; in as many queries however long the histories are.

    `others`: where only void entries name it; their histories are read as well.
    """
    shop = Shop.current()
    history = History(recipe_book(), shop.zone)
    keys = {entry.tool_id for one in (now, then, *others) if one is not None for entry in one.entries}
    tools = Tool.objects.select_related("release_system").in_bulk(keys)
    history.read(tools)
    members = inside(history, [tool for tool in tools.values() if tool.kind in Kind.TAKES_INSERTS])
    stories = [_Telling(history, members).tell(now, tools, None)]
    if then is not None:
        stories.append(_Telling(history.as_known(known_at), members).tell(then, tools, known_at))
    named = {fact.id for story in stories for fact in _facts(story)}
    entries = Entry.objects.select_related("tool", "by", "recorded_by").in_bulk(named)
    for story in stories:
        story.entries = entries
    return Told(stories[0], stories[1] if then is not None else None, known_at, shop, history, tools)


class _Telling:
    """One way of reading the histories: by all that is recorded, or by what was up to a moment."""

    def __init__(self, history: History, members: dict[int, list[Tool]]) -> None:
        self.history, self.members = history, members

    def tell(self, named: Named, tools: dict[int, Tool], known_at: datetime | None) -> Story:
        story = Story(named, known_at)
        for tool in (tools[one.pk] for one in named.tools):
            for making in makings(self.history.placed(tool.pk)):
                if not _is_of(making, named):
                    continue
                if tool.kind == Kind.TRIM_MASK:
                    story.trimmed.append(self._trimmed(tool, making))
                else:
                    story.made.append(self._made(tool, making))
        story.made.sort(key=lambda one: (by_key(one.making.first), one.tool.code))
        story.trimmed.sort(key=lambda one: one.used.at)
        return story

    def _trimmed(self, mask: Tool, making: Making) -> Trimmed:
        return Trimmed(mask, making.first[2], of_mask(self.history, mask, by_key(making.first)))

    def _made(self, tool: Tool, making: Making) -> Made:
        instants = [one[0] for one in (making.lay_up, making.end) if one is not None]
        inserts = reached_by(self.history, self.members.get(tool.pk, ()), tool, instants)
        return Made(tool, making, tuple(self._surface(one, making) for one in (tool, *inserts)))

    def _surface(self, tool: Tool, making: Making) -> SurfaceThen:
        end, part = making.end, making.first[2].part
        begin = by_key(making.first)
        at_lay_up = before(self.history, tool, begin, part) if making.lay_up is not None else None
        pulled = end is not None and end[2].kind == "pull"
        at_pull = before(self.history, tool, by_key(end), part) if pulled else None  # type: ignore[arg-type]
        holds = (at_lay_up or at_pull).holds if (at_lay_up or at_pull) else {}  # type: ignore[union-attr]
        here = pulled and end[2].surface in (None, tool.pk)  # type: ignore[index]
        return SurfaceThen(
            tool,
            at_lay_up,
            at_pull,
            tape_after(self.history, tool, by_key(end)) if pulled else None,  # type: ignore[arg-type]
            on_it(self.history.sequence(tool), begin),
            end[2].came_off if here else "",  # type: ignore[index]
            around(self.history, tool, begin, _end_of(making), holds),
        )


def _end_of(making: Making) -> Key:
    return by_key(making.end or making.first)


def _is_of(making: Making, named: Named) -> bool:
    """Whether one of its entries names the number, for a part that can be this one."""
    wanted, part = whole_key(named.number), whole_key(named.part)
    ends = [one[2] for one in (making.lay_up, making.end) if one is not None]
    of_it = any(whole_key(one.part) in (part, "") for one in ends)
    return of_it and any(whole_key(one) == wanted for fact in ends for one in split(fact.serial))


def _facts(story: Story) -> Iterator[Fact]:
    """Everything that the story names."""
    for made in story.made:
        yield from (one[2] for one in (made.making.lay_up, made.making.done, made.making.end) if one is not None)
        for surface in made.surfaces:
            yield from surface.on.coats
            yield from _of(surface.on.film)
            yield from _around(surface.around)
    for one in story.trimmed:
        yield one.used
        yield from _around(one.around)


def _around(around: Around) -> Iterator[Fact]:
    yield from _of(around.looked_before)
    if around.looked_after is not None:
        yield around.looked_after.entry
    yield from (one.entry for one in (*around.open, *around.opened, *around.hard))


def _of(fact: Fact | None) -> Iterable[Fact]:
    return () if fact is None else (fact,)
