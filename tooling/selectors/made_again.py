"""Can a tool be made again? By what is known of the plug, or whatever else, that it was made from.

And the other way: what could not be made again if a plug went.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from django.db.models import Exists, OuterRef, Q

from shared.natural import natural
from tooling.models import Entry, Kind, Part, PartRevision, Place, PlaceKind, PlugRecord, SetLine, SetRole, Tool
from tooling.selectors.place_tree import upward
from tooling.selectors.usable.answer import reasons_of
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.selectors.whereabouts import Whereabouts
from tooling.words import made_again as words
from tooling.words.places import found_at
from tooling.words.readings import what

YES, YES_AFTER, NO, UNKNOWN = "yes", "yes_after", "no", "unknown"
# What holds of this hour, not of the plug; that it is lent or not home is said by where it is.
_OF_THE_HOUR = frozenset({"shop_cold", "shop_hot", "not_home", "lent"})
# Said before all else: it is not there, or not to be used.
_FIRST = frozenset({"place_unknown", "held", "making"})
# As often as one may have taken the place of another: beyond, somebody has closed a loop.
_GENERATIONS = 20


@dataclass(frozen=True, slots=True)
class MadeAgain:
    """`verdict`: yes, yes_after, no or unknown. `source`: the plug, or whatever it would be made from.

    said: the verdict as a sentence. reasons: what has to be done first, or why not. notes: what else is known.
    """

    verdict: str
    said: str
    source: Tool | None = None
    reasons: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def brief(self) -> str:
        """The verdict with the first of its reasons."""
        return " ".join([self.said, *self.reasons[:1]])


@dataclass(frozen=True, slots=True)
class LostWith:
    """What hangs on a plug alone: molds and mold inserts in use, and the numbers of parts that have no other mold.

    instead: what is to take its place and cannot yet, as it is in the making, held, or nobody knows where.
    """

    tools: list[Tool]
    parts: list[str]
    instead: list[Tool] = field(default_factory=list)


def made_again(tools: Iterable[Tool], at: datetime) -> dict[int, MadeAgain]:
    """For each of these that is a mold or a mold insert, by its key, in as many queries however many there are.

    Their summaries were read with them.
    """
    asked = [tool for tool in tools if tool.kind in (Kind.MOLD, Kind.INSERT)]
    known = _Known(asked, at)
    return {tool.pk: known.answer(tool) for tool in asked}


def lost_with(plug: Tool) -> LostWith:
    """As all stands now, what could not be made again if this went; of one that is retired, what cannot be any more."""
    made = Tool.objects.filter(made_from=plug, summary__retired=False, kind__in=(Kind.MOLD, Kind.INSERT))
    found = sorted(made.order_by(), key=lambda one: natural(one.code))
    instead = _successors(plug) if found else []
    if not found or any(words.not_there_yet(one) == "" for one in instead):
        return LostWith([], [])
    plugs = Tool.objects.filter(kind=Kind.PLUG, made_from__in=found, summary__retired=False).exclude(pk=plug.pk)
    other = set(plugs.values_list("made_from_id", flat=True))
    alone = [one for one in found if one.pk not in other]
    return LostWith(alone, _parts_of([one.pk for one in alone if one.kind == Kind.MOLD]), instead)


class _Known:
    """What is read once for all tools that are asked about."""

    def __init__(self, tools: Collection[Tool], at: datetime) -> None:
        self.tools, self.at = tools, at

    @cached_property
    def origins(self) -> dict[int, Tool]:
        """What they were made from, and what took the place of these, by key."""
        found: dict[int, Tool] = {}
        keys = {tool.made_from_id for tool in self.tools} - {None}
        wanted = Q(pk__in=keys)
        for _generation in range(_GENERATIONS):
            new = Tool.objects.filter(wanted).exclude(pk__in=found).select_related("summary")
            met = {one.pk: one for one in new.order_by()}
            if not met:
                break
            found |= met
            gone = [key for key, one in met.items() if one.summary.retired]
            if not gone:
                break
            wanted = Q(in_place_of__in=gone)
        return found

    @cached_property
    def in_its_place(self) -> dict[int, list[str]]:
        """By the keys of those that are retired the codes of what took their place and is in use."""
        found: dict[int, list[str]] = defaultdict(list)
        gone = [tool.pk for tool in self.tools if tool.summary.retired]
        after = Tool.objects.filter(in_place_of__in=gone, summary__retired=False).order_by("code")
        for key, code in after.values_list("in_place_of", "code") if gone else ():
            found[key].append(code)
        return found

    @cached_property
    def asked(self) -> Asked:
        return Asked(self.origins.values(), self.at)

    @cached_property
    def reasons(self) -> dict[int, list[Reason]]:
        return reasons_of(self.asked) if self.origins else {}

    @cached_property
    def outside(self) -> frozenset[int]:
        """The places that are not in the house."""
        rows = list(Place.objects.values_list("pk", "parent_id", "kind"))
        tree = {pk: parent for pk, parent, _kind in rows}
        out = {pk for pk, _parent, kind in rows if kind == PlaceKind.OUTSIDE}
        return frozenset(pk for pk in tree if out.intersection(upward(tree, pk))) if out else frozenset()

    @cached_property
    def readings(self) -> dict[int, dict[str, list[Entry]]]:
        """By the key of each, by what was measured and where, the first and the last reading."""
        found: dict[int, dict[str, list[Entry]]] = defaultdict(dict)
        taken = Entry.objects.filter(tool__in=self.origins, kind="reading", at__lte=self.at).standing()
        for one in taken.order_by("at", "pk"):
            both = found[one.tool_id].setdefault(what(one.payload), [one, one])
            both[1] = one
        return found

    @cached_property
    def milled(self) -> frozenset[int]:
        """Those that were milled themselves: with a record of it, or with such work in their history."""
        bare = [tool.pk for tool in self.tools if tool.made_from_id is None]
        work = Entry.objects.filter(tool=OuterRef("pk"), kind="making", payload__work="machining").standing()
        record = PlugRecord.objects.filter(tool=OuterRef("pk"))
        found = Tool.objects.filter(Exists(work) | Exists(record), pk__in=bare) if bare else Tool.objects.none()
        return frozenset(found.values_list("pk", flat=True))

    def answer(self, tool: Tool) -> MadeAgain:
        """Of one of them; one that is retired and whose place is taken says no more than that."""
        after = self.in_its_place.get(tool.pk)
        found = self._answer(tool)
        return MadeAgain(found.verdict, words.place_taken(after)) if after else found

    def _answer(self, tool: Tool) -> MadeAgain:
        origin = self.origins.get(tool.made_from_id or 0)
        if origin is None:
            if tool.pk in self.milled:
                return MadeAgain(YES_AFTER, words.milled(tool.design_ref))
            return MadeAgain(UNKNOWN, words.unknown())
        source = self._in_use(origin)
        if source is None:
            return MadeAgain(NO, words.no(origin.code), origin, notes=self._measured(origin))
        return self._from(source, origin)

    def _from(self, source: Tool, origin: Tool) -> MadeAgain:
        whereabouts = self.asked.read.whereabouts[source.pk]
        where = found_at(whereabouts)
        away = self._gone(source, whereabouts)
        first = [*away, *self._against(source)]
        notes = self._measured(source)
        if source != origin:
            notes = (words.in_place(source.code, origin.code), *notes)
        if first:
            said = words.yes_after(source.code, "" if away or whereabouts.lost else where)
            return MadeAgain(YES_AFTER, said, source, tuple(first), notes)
        return MadeAgain(YES, words.yes(source.code, where), source, notes=notes)

    def _in_use(self, origin: Tool) -> Tool | None:
        """That one where it is not retired, else what took its place and is not."""
        todo, seen = [origin], {origin.pk}
        while todo:
            one = todo.pop(0)
            if not self._is_retired(one):
                return one
            after = [new for new in self.origins.values() if new.in_place_of_id == one.pk and new.pk not in seen]
            seen |= {new.pk for new in after}
            todo += sorted(after, key=lambda new: (self._is_making(new), natural(new.code)))
        return None

    def _is_retired(self, tool: Tool) -> bool:
        return any(one.code == "retired" and one.tool == tool.code for one in self.reasons[tool.pk])

    def _is_making(self, tool: Tool) -> bool:
        return any(one.code == "making" for one in self.reasons[tool.pk])

    def _against(self, source: Tool) -> list[str]:
        stops = (one for one in self.reasons[source.pk] if one.stops and one.code not in _OF_THE_HOUR)
        first = sorted(stops, key=lambda one: one.code not in _FIRST)
        said = (" ".join(filter(None, (one.text, one.beside))) for one in first)
        return list(dict.fromkeys(said))

    def _gone(self, source: Tool, where: Whereabouts) -> list[str]:
        if where.mold is not None:
            return []
        if where.lent:
            return [words.lent_out(source.code, where, self.at.astimezone(self.asked.shop.zone).date())]
        away = where.place is not None and where.place.pk in self.outside
        return [words.outside(source.code, where.place.name)] if away and where.place is not None else []

    def _measured(self, source: Tool) -> tuple[str, ...]:
        zone = self.asked.shop.zone
        both = self.readings.get(source.pk, {}).items()
        return tuple(words.reading(name, first, last, zone, self.at) for name, (first, last) in sorted(both))


def _successors(plug: Tool) -> list[Tool]:
    """What took its place, or the place of what did, and is not retired."""
    seen, keys, found = {plug.pk}, [plug.pk], []
    while keys:
        after = Tool.objects.filter(in_place_of__in=keys).exclude(pk__in=seen).select_related("summary")
        new = list(after.order_by())
        found += [one for one in new if not one.summary.retired]
        keys = [one.pk for one in new]
        seen |= set(keys)
    return sorted(found, key=lambda one: natural(one.code))


def _parts_of(molds: list[int]) -> list[str]:
    """The parts that no other mold in use makes: by their tool sets; without one, by what was pulled."""
    if not molds:
        return []
    needs = Part.objects.filter(revisions__tool_set__role=SetRole.MOLD, revisions__tool_set__tool__in=molds)
    newest: dict[str, int] = {}
    for revision in PartRevision.objects.filter(part__in=needs).newest_first().select_related("part"):
        newest.setdefault(revision.part.number, revision.pk)
    lines = SetLine.objects.filter(revision__in=newest.values(), role=SetRole.MOLD).select_related("tool__summary")
    by_set: dict[int, list[SetLine]] = defaultdict(list)
    for line in lines.order_by():
        by_set[line.revision_id].append(line)
    found = [
        number for number, key in newest.items() if any(_is_alone(line, by_set[key], molds) for line in by_set[key])
    ]
    return sorted([*found, *_pulled_only(molds, newest)], key=natural)


def _is_alone(line: SetLine, of: list[SetLine], molds: list[int]) -> bool:
    return line.required and line.tool_id in molds and not any(_stands_in(other, line, molds) for other in of)


def _stands_in(other: SetLine, line: SetLine, molds: list[int]) -> bool:
    same = bool(line.alternative) and other.alternative == line.alternative
    return same and other.tool is not None and other.tool_id not in molds and not other.tool.summary.retired


def _pulled_only(molds: list[int], known: Collection[str]) -> list[str]:
    """Parts without a tool set of these molds that came off these alone."""
    pulls = Entry.objects.filter(kind="pull").exclude(part="")
    numbers = set(pulls.filter(tool__in=molds).standing().order_by().values_list("part", flat=True).distinct())
    numbers -= set(known)
    if not numbers:
        return []
    others = pulls.naming(numbers).exclude(tool__in=molds).filter(tool__kind=Kind.MOLD, tool__summary__retired=False)
    made = {part.strip().upper() for part in others.standing().order_by().values_list("part", flat=True).distinct()}
    return [one for one in numbers if one.strip().upper() not in made]
