"""The answer: the parts in doubt by an entry that stopped a tool, or by a lot, with what was looked at of them."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo

from tooling.calc.containment import Stretch, bare_to_parts, looked_around, lying
from tooling.calc.entry import Entry as Fact
from tooling.calc.order import Placed, by_key
from tooling.models import ContainmentMark, Entry, Kind, Person, Shop, Tool, Verdict
from tooling.models.serials import key_of, whole_key
from tooling.selectors.containment.doubts import Doubt
from tooling.selectors.containment.lines import InDoubt, lines_of, mark
from tooling.selectors.containment.looks import looks_of
from tooling.selectors.containment.lots import naming
from tooling.selectors.containment.marks import Found, standing
from tooling.selectors.history import History
from tooling.selectors.recipes import recipe_book
from tooling.selectors.serials.made import Part, parts_of


@dataclass(frozen=True, slots=True)
class Span:
    """The stretch in which a tool made parts in doubt. before: the parts that a starting state counts, not recorded."""

    tool: Tool
    stretch: Stretch
    before: int = 0


@dataclass(frozen=True, slots=True)
class Containment:
    """The parts in doubt, newest first, and why. doubt: None where it is about a lot.

    people: the names of whose hands, by key; stray: marks of what is void by now or no longer in doubt; unsaid: tools
    that are said to come from it, with no entry that says when.
    """

    doubt: Doubt | None
    lot: str
    spans: list[Span]
    lines: list[InDoubt]
    stray: list[ContainmentMark]
    people: dict[int, str]
    zone: tzinfo
    unsaid: tuple[Tool, ...] = ()

    @property
    def count(self) -> int:
        """How many parts are in doubt."""
        return sum(line.count for line in self.lines)

    @property
    def looked_at(self) -> int:
        """How many of them somebody looked at."""
        return sum(line.count for line in self.lines if line.mark is not None)

    @property
    def not_good(self) -> int:
        """How many of these were not good."""
        found = (line for line in self.lines if line.mark is not None)
        return sum(line.count for line in found if line.mark.found == Verdict.NOT_GOOD)  # type: ignore[union-attr]

    @property
    def under(self) -> int:
        """How many met a later coat of another lot."""
        return sum(line.count for line in self.lines if line.under)

    def only(self, under: bool | None) -> "Containment":
        """Those under later coats alone, or the others; None leaves all."""
        return self if under is None else replace(self, lines=[one for one in self.lines if one.under == under])

    @property
    def after(self) -> int:
        """How many went in when the tool was stopped already."""
        return sum(line.count for line in self.lines if line.after)


def made_since(doubt: Doubt, at: datetime) -> Containment:
    """Since the tool was last looked at and passed, up to the entry; and after it, until somebody looked and passed it.

    As of a moment, in as many queries however long the histories are.
    """
    tool, zone = doubt.tool, Shop.current().zone
    history = History(recipe_book(), zone, as_of=at)
    looks, own = looks_of(tool.kind), history.placed(tool.pk)
    stretch = looked_around(own, doubt.key, looks.kinds, looks.first)
    parts = [one for one in parts_of(tool, history) if stretch.meets(one.making)]
    lines = lines_of((one, by_key(one.making.first) > doubt.key, False) for one in parts)
    stray = mark(lines, _marks(of_entry__in=doubt.chain))
    span = Span(tool, stretch, _not_recorded(own, stretch))
    return Containment(
        doubt, "", [span], lines, stray, _people(lines, _ends([span])), zone,
        _unsaid(tool, lines) if stretch.since is None else (),
    )  # fmt: skip


def lot_made(lot: str, at: datetime) -> Containment | None:
    """What was used while a lot lay on it; None where no entry names the lot."""
    shop = Shop.current()
    put_on = _lot_entries(lot, at)
    if not put_on:
        return None
    history = History(recipe_book(), shop.zone, as_of=at)
    keys = {tool for tool, _name in put_on.values()}
    tools = sorted(Tool.objects.select_related("release_system").in_bulk(keys).values(), key=lambda one: one.code)
    history.read_with_molds(tools)
    molds = _molds(tools, history)
    spans, found, others = [], [], _other_coats(tools, put_on)
    for tool in tools:
        own, parts = history.placed(tool.pk), list(parts_of(tool, history, molds))
        stretches = lying(own, put_on.keys(), [one.making for one in parts])
        spans += [Span(tool, one) for one in stretches]
        first = [bare_to_parts(own, one, others) for one in stretches]
        found += [(one, not _meets(first, one)) for one in parts if _meets(stretches, one)]
    lines = lines_of(_once(found))
    stray = mark(lines, _marks(of_entry=None, of_lot=key_of(lot)))
    name = next(iter(put_on.values()))[1]
    return Containment(None, name, spans, lines, stray, _people(lines, _ends(spans)), shop.zone)


def _lot_entries(lot: str, at: datetime) -> dict[int, tuple[int, str]]:
    """The standing entries that name a lot, in any case: each with its tool and the lot as it was written."""
    entries = naming(lot).filter(at__lte=at).order_by("at", "pk")
    return {pk: (tool, said) for pk, tool, said in entries.values_list("pk", "tool_id", "said")}


def _once(parts: Iterable[tuple[Part, bool]]) -> list[tuple[Part, bool, bool]]:
    """The part of a mold is in doubt once, also where its inserts had the lot too: under coats where it was on each."""
    found: dict[int, tuple[Part, bool, bool]] = {}
    for part, under in parts:
        key = part.making.first[1]
        found[key] = (part, False, under and (key not in found or found[key][2]))
    return list(found.values())


def _meets(stretches: Iterable[Stretch], part: Part) -> bool:
    return any(one.meets(part.making) for one in stretches)


def _other_coats(tools: Iterable[Tool], put_on: Collection[int]) -> set[int]:
    """The coats of these tools that name another lot."""
    coats = Entry.objects.filter(kind="coat", tool__in=tools, payload__has_key="lot").standing()
    return set(coats.values_list("pk", flat=True)) - set(put_on)


def _molds(tools: Iterable[Tool], history: History) -> dict[int, Tool]:
    keys = {stay.mold for tool in tools if tool.kind == Kind.INSERT for stay in history.stays(tool.pk)}
    return Tool.objects.in_bulk(keys) if keys else {}


def _marks(**of: object) -> Iterable[Found]:
    return standing(ContainmentMark.objects.filter(**of).select_related("by", "recorded_by").order_by("at", "pk"))


def _not_recorded(own: Sequence[Placed], stretch: Stretch) -> int:
    """The pulls that a starting state counts, where nothing clears the tool since."""
    if stretch.since is not None:
        return 0
    return next((one[2].total_pulls or 0 for one in own if one[2].kind == "starting_state"), 0)


def _unsaid(plug: Tool, lines: Iterable[InDoubt]) -> tuple[Tool, ...]:
    """What is said to come from a plug, and no pull of it names."""
    if plug.kind != Kind.PLUG:
        return ()
    named = {whole_key(line.first.part) for line in lines}
    return tuple(one for one in Tool.objects.filter(made_from=plug).order_by("code") if one.code not in named)


def _ends(spans: Iterable[Span]) -> list[Placed]:
    return [one for span in spans for one in (span.stretch.since, span.stretch.until) if one is not None]


def _people(lines: Iterable[InDoubt], more: Iterable[Placed]) -> dict[int, str]:
    facts: list[Fact | None] = [fact for line in lines for one in line.parts for fact in (one.lay_up, one.end)]
    by = {fact.by for fact in [*facts, *(one[2] for one in more)] if fact is not None}
    return dict(Person.objects.filter(pk__in=by - {None}).values_list("pk", "name"))
