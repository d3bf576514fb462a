"""What a synthetic shop has: recipes, people, places and tools, and how much each tool was used."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random

from bench.synth.size import Size
from tooling.models import Kind, Person, Place, ReleaseSystem, Shop, Tool
from tooling.services.absorb import Rules
from tooling.services.starters import add_starter
from tooling.services.tools import rules

RECIPES = ("WAX", "SEMI", "WAX-FILM", "WAX-PLUG")
PEOPLE = 12
PLACES = 60
# Of ten tools seven are molds; plug, mold insert and trim mask are one each.
KINDS = (Kind.MOLD, Kind.MOLD, Kind.INSERT, Kind.MOLD, Kind.MOLD, Kind.PLUG, Kind.MOLD, Kind.MOLD, Kind.TRIM_MASK,
         Kind.MOLD)  # fmt: skip
# Two molds alike but for the length of their histories, for those who ask whether that matters.
SHORT, LONG = 3, 4
LENGTHS = {SHORT: 50, LONG: 5_000}
LARGE = 20_000  # from as many entries on there is room for the long one


@dataclass
class Works:
    """The rows of the shop; tools are named by their places in `tools`, which is the order of their keys."""

    rules: Rules
    tools: list[Tool]
    people: list[int]
    places: list[int]
    inserts: dict[int, list[int]] = field(default_factory=dict)


@dataclass(frozen=True)
class Plan:
    """How much one tool, with its mold inserts, was used: the number of entries, and the last of its days."""

    tool: int
    entries: int
    last: datetime
    in_use: bool


def create(size: Size) -> Works:
    """Writes all but the histories."""
    Shop(name="Synthetic works", time_zone="Europe/Oslo").save()
    systems = {code: add_starter(code).system for code in RECIPES}
    people = [Person.objects.named(f"Hand {number}").pk for number in range(1, PEOPLE + 1)]
    places = Place.objects.bulk_create(Place(code=f"R-{n}", name=f"Rack {n}") for n in range(1, PLACES + 1))
    rng = Random(size.seed)
    tools = [_tool(number, systems, places, rng) for number in range(size.tools)]
    Tool.objects.bulk_create(tools, batch_size=500)
    works = Works(rules(), tools, people, [place.pk for place in places])
    # An insert belongs to the mold before it.
    works.inserts = {number - 1: [number] for number, tool in enumerate(tools) if tool.kind == Kind.INSERT}
    return works


def _tool(number: int, systems: dict[str, ReleaseSystem], places: list[Place], rng: Random) -> Tool:
    kind = KINDS[number % len(KINDS)]
    code, name = f"{kind[:2].upper()}-{number:05}", f"{kind.label} {number}"
    system = systems.get("WAX" if number in LENGTHS else _recipe(kind, rng))
    return Tool(code=code, kind=kind, name=name, release_system=system, place=rng.choice(places))


def _recipe(kind: str, rng: Random) -> str:
    if kind == Kind.MOLD:
        return rng.choices(("WAX", "SEMI", "WAX-FILM"), (5, 3, 2))[0]
    return {Kind.PLUG: "WAX-PLUG", Kind.INSERT: "WAX"}.get(Kind(kind), "")


def plans(works: Works, size: Size, end: datetime) -> Iterator[Plan]:
    """How much each tool was used, an insert with its mold; all together exactly `size.entries`."""
    rng = Random(size.seed + 1)
    fixed = LENGTHS if size.entries >= LARGE else {}
    inside = {insert for inserts in works.inserts.values() for insert in inserts}
    weights = {number: min(rng.lognormvariate(0, 1), 12) for number in range(size.tools) if number not in inside}
    free = sum(weight for number, weight in weights.items() if number not in fixed)
    scale, owed = (size.entries - sum(fixed.values())) / free, 0.0
    for number, weight in weights.items():
        owed += 0 if number in fixed else weight * scale
        count = fixed.get(number, round(owed))
        owed -= 0 if number in fixed else count
        # Three tools of ten are in use today, the others were left at some time in the last two years.
        in_use = rng.random() < 0.3
        left = timedelta() if in_use else timedelta(days=rng.uniform(1, 730))
        yield Plan(number, count, end - left, in_use)
