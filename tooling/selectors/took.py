"""What it took to make a tool: hours and material of its making, added up from its history."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import Any

from django.db.models import Exists, OuterRef, Q

from shared.units import UNITS, stored, to_si
from tooling.calc.entry import WORKS
from tooling.models import Entry, MillingPass, Tool

# Tools alike that are offered to go by.
OFFERED = 5
MACHINING = "machining"
_ZERO = Decimal(0)
# What shops write in, as parts of what it is added up in. Exact by definition of the prefixes.
_PARTS = {"g": ("kg", Decimal("0.001")), "ml": ("l", Decimal("0.001"))}


@dataclass(frozen=True, slots=True)
class Work:
    """One kind of work: its minutes, how often it was written, how many coats or skins were said with it."""

    work: str
    minutes: Decimal
    entries: int
    count: int


@dataclass(frozen=True, slots=True)
class Material:
    """So much of one material; the unit is "" where nobody wrote one."""

    material: str
    unit: str
    amount: Decimal
    entries: int


@dataclass(frozen=True, slots=True)
class Took:
    """What the making of a tool took, up to when it was accepted the first time (`until`; None: it goes on).

    by_passes: the minutes of machining are those of the milling passes. Of the entries `left_out` is then not added, so
    that nothing counts twice (`not_added`: their keys); `added` stands for passes without minutes (`unsaid` of them).
    later: minutes written after it was accepted, which are not in it either.
    """

    tool: Tool
    works: tuple[Work, ...]
    materials: tuple[Material, ...]
    entries: tuple[Entry, ...]
    since: datetime | None
    until: datetime | None
    by_passes: bool = False
    left_out: Decimal = _ZERO
    added: Decimal = _ZERO
    unsaid: int = 0
    not_added: frozenset[int] = frozenset()
    later: Decimal = _ZERO

    @property
    def minutes(self) -> Decimal:
        """Of all works together."""
        return sum((one.minutes for one in self.works), _ZERO)

    @property
    def machining(self) -> Decimal:
        """Those of machining, for which nobody stands there all the time."""
        return sum((one.minutes for one in self.works if one.work == MACHINING), _ZERO)

    @property
    def goes_on(self) -> bool:
        """Whether more of it is to come: it is still in the making."""
        return self.tool.summary.making

    @property
    def cost(self) -> Decimal | None:
        """What stands in the catalogue as its cost."""
        return self.tool.cost

    @property
    def known(self) -> bool:
        """Whether anything was written of what it took."""
        return bool(self.works or self.materials)


def took(tools: Iterable[Tool], until: datetime | None = None) -> dict[int, Took]:
    """What each of these tools took, by its key, in two queries. until: as far as it had come at that moment.

    Minutes of milling passes have no day, and are in it whenever it is asked.
    """
    asked = {tool.pk: tool for tool in tools}
    written: dict[int, list[Entry]] = defaultdict(list)
    entries = Entry.objects.filter(tool__in=asked, kind__in=("making", "accepted")).standing()
    if until is not None:
        entries = entries.filter(at__lte=until)
    for entry in entries.select_related("by").order_by("at", "pk"):
        written[entry.tool_id].append(entry)
    passes: dict[int, list[Decimal | None]] = defaultdict(list)
    for key, minutes in MillingPass.objects.filter(tool__in=asked).values_list("tool", "minutes_taken"):
        passes[key].append(minutes)
    return {key: _took(tool, written[key], passes[key]) for key, tool in asked.items()}


def alike(kind: str, first: Tool | None = None) -> list[Took]:
    """What the last tools of a kind took of which it was written: `first`, those that are done, those that are not.

    They are looked for among those that came into the shop's list while they were in the making.
    """
    begun = Tool.objects.filter(kind=kind).filter(
        Q(in_making=True) | Q(summary__making=True) | Exists(MillingPass.objects.filter(tool=OuterRef("pk")))
    )
    tools = list(begun.select_related("summary").order_by("-pk")[: 4 * OFFERED])
    if first is not None and first.kind == kind and first not in tools:
        tools.append(first)
    found = [one for one in took(tools).values() if one.known]
    found.sort(key=lambda one: (one.tool == first, one.until is not None, one.tool.pk), reverse=True)
    return found[:OFFERED]


def _took(tool: Tool, entries: Sequence[Entry], passes: Sequence[Decimal | None]) -> Took:
    end = next((place for place, entry in enumerate(entries) if entry.kind == "accepted"), None)
    making = [entry for entry in entries[:end] if entry.kind == "making"]
    after = [] if end is None else [entry for entry in entries[end:] if entry.kind == "making"]
    counted = tuple(entry for entry in making if says_what_it_took(entry))
    machining = [entry for entry in counted if entry.payload.get("work") == MACHINING and minutes_of(entry)]
    by_passes = any(minutes is not None for minutes in passes)
    without = _of_passes_without(machining, passes) if by_passes else machining
    not_added = [entry for entry in machining if entry not in without]
    return Took(
        tool,
        _works(counted, not_added, sum((minutes or _ZERO for minutes in passes), _ZERO) if by_passes else None),
        _materials(counted),
        counted,
        making[0].at if making else None,
        entries[end].at if end is not None else None,
        by_passes=by_passes,
        left_out=sum(map(minutes_of, not_added), _ZERO),
        added=sum(map(minutes_of, without), _ZERO) if by_passes else _ZERO,
        unsaid=sum(minutes is None for minutes in passes) if by_passes else 0,
        not_added=frozenset(entry.pk for entry in not_added),
        later=sum(map(minutes_of, after), _ZERO),
    )


def _of_passes_without(machining: Sequence[Entry], passes: Sequence[Decimal | None]) -> list[Entry]:
    """The entries of machining that stand for a pass without minutes: one by one, where there is one for each pass."""
    if len(machining) != len(passes):
        return []
    return [entry for entry, minutes in zip(machining, passes, strict=True) if minutes is None]


def says_what_it_took(entry: Entry) -> bool:
    """Whether work, minutes or material stand in it, beside the step."""
    return any(entry.payload.get(name) for name in ("work", "minutes", "material"))


def minutes_of(entry: Entry) -> Decimal:
    """The minutes that an entry says; 0 where it says none."""
    return _number(entry.payload.get("minutes")) or _ZERO


def amount_of(entry: Entry) -> tuple[Decimal, str] | None:
    """How much material an entry says, in the unit in which it is added up; None where it says nothing of that."""
    number = _number(entry.payload.get("value"))
    if number is None:
        return None
    unit = " ".join(str(entry.payload.get("unit", "")).split())
    known = UNITS.get(unit) or UNITS.get(unit.casefold())
    if known is not None and known.zero == 0:
        return stored(to_si(Fraction(number), known)), known.si
    whole, part = _PARTS.get(unit.casefold(), (unit, Decimal(1)))
    return number * part, whole


def _works(entries: Sequence[Entry], not_added: Sequence[Entry], machine: Decimal | None) -> tuple[Work, ...]:
    """The works in the order in which they are done; `machine`: the minutes that milling passes say."""
    by_work: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        by_work[str(entry.payload.get("work", ""))].append(entry)
    if machine is not None:
        by_work.setdefault(MACHINING, [])
    works = []
    for work in sorted(by_work, key=_place):
        of_it = by_work[work]
        minutes = sum((minutes_of(entry) for entry in of_it if entry not in not_added), _ZERO)
        if work == MACHINING and machine is not None:
            minutes += machine
        works.append(Work(work, minutes, len(of_it), sum(entry.count or 0 for entry in of_it)))
    return tuple(works)


def _place(work: str) -> tuple[int, str]:
    return (WORKS.index(work) if work in WORKS else len(WORKS), work)


def _materials(entries: Sequence[Entry]) -> tuple[Material, ...]:
    """Each material in each unit, called as it was written last; in order of their names."""
    called: dict[str, str] = {}
    amounts: dict[tuple[str, str], list[Decimal]] = defaultdict(list)
    for entry in entries:
        material = " ".join(str(entry.payload.get("material", "")).split())
        if not material:
            continue
        called[material.casefold()] = material
        amount, unit = amount_of(entry) or (None, "")
        if amount is not None:
            amounts[material.casefold(), unit].append(amount)
        else:
            amounts.setdefault((material.casefold(), ""), [])
    some = {material for (material, _unit), given in amounts.items() if given}
    kept = ((key, given) for key, given in sorted(amounts.items()) if given or key[0] not in some)
    return tuple(Material(called[key[0]], key[1], sum(given, _ZERO), len(given)) for key, given in kept)


def _number(text: Any) -> Decimal | None:
    """A number of a payload; None for what an import brought and is none."""
    try:
        number = Decimal(str(text)) if text not in (None, "") else None
    except InvalidOperation:
        return None
    return number if number is not None and number.is_finite() else None
