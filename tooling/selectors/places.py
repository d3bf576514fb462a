"""Racks, shelves and rooms as a tree: what lies there, what it weighs, and whose home is there that lies elsewhere."""

from dataclasses import dataclass
from difflib import get_close_matches

from django.db.models import Count, F, QuerySet, Window
from django.db.models.functions import RowNumber

from tooling.models import Place, Summary, tidy_code
from tooling.selectors.loads import Load, at, each, lying, summed
from tooling.selectors.place_tree import above, below, in_order
from tooling.selectors.tools import OFFERED, bare_code

# Tools named on each shelf of the tree; more are counted.
NAMED = 8


@dataclass(frozen=True, slots=True)
class Shelf:
    """A place in the tree with what lies on it: the first tools, how many; what it carries; how many are not home."""

    place: Place
    depth: int
    tools: tuple[Summary, ...]
    load: Load
    away: int

    @property
    def count(self) -> int:
        """Tools that lie on it itself."""
        return self.load.count

    @property
    def more(self) -> int:
        """Tools that are not named."""
        return self.count - len(self.tools)

    @property
    def overloaded(self) -> bool:
        """Whether what is known to lie there and below is more than it may carry."""
        return self.place.max_load_kg is not None and self.load.kg > self.place.max_load_kg


@dataclass(frozen=True, slots=True)
class Rack:
    """A place (`whole`) that has others in it: these from the top, and itself last where something lies on none."""

    whole: Shelf
    within: Place | None
    shelves: list[Shelf]

    @property
    def place(self) -> Place:
        """The place that it is."""
        return self.whole.place


@dataclass(frozen=True, slots=True)
class PlacePage:
    """One place: what it lies in, from the outside; itself; the racks in it, itself first where it is one."""

    above: list[Place]
    shelf: Shelf
    within: list[Rack]


def racks(shelves: list[Shelf]) -> list[Rack]:
    """The racks that these shelves make, each followed by those within it; a lonely place is one by itself."""
    by_key = {one.place.pk: one for one in shelves}
    children: dict[int | None, list[Shelf]] = {}
    for one in shelves:
        children.setdefault(one.place.parent_id, []).append(one)
    found = []
    for one in shelves:
        within = children.get(one.place.pk, [])
        lonely = one.place.parent_id not in by_key and not within
        if not (within or lonely):
            continue
        bare = [child for child in within if child.place.pk not in children]
        own = [one] if lonely or one.count or one.away else []
        above = by_key.get(one.place.parent_id)
        found.append(Rack(one, above.place if above else None, [*bare, *own]))
    return found


def shelves(within: Place | None = None) -> list[Shelf]:
    """A place and those within it (None: all places), each followed by those within it, in as many queries."""
    places = Place.objects.all() if within is None else Place.objects.filter(pk__in=below([within.pk]))
    in_tree = in_order(places)
    branch = None if within is None else [place.pk for place, _depth in in_tree]
    gone = at(Summary.objects.filter(away=True), "home", branch).order_by().values_list("home_id")
    away = dict(gone.annotate(n=Count("pk")))
    named: dict[int, list[Summary]] = {}
    for summary in _first_of_each(at(lying(), "lies", branch)):
        named.setdefault(summary.lies, []).append(summary)
    carried = summed(in_tree, each(branch))
    return [
        Shelf(place, depth, tuple(named.get(place.pk, ())), carried[place.pk], away.get(place.pk, 0))
        for place, depth in in_tree
    ]


def page(code: str) -> PlacePage | None:
    """The page of the place of that code or older code; None where there is none."""
    place = Place.objects.called(code).first()
    if place is None:
        return None
    here, *inner = shelves(place)
    return PlacePage(above(place), here, racks([here, *inner]) if inner else [])


def near(code: str) -> list[Place]:
    """Places whose code is nearly the one that was asked for, the nearest first."""
    known = {bare_code(one): one for one in Place.objects.values_list("code", flat=True)}
    found = [known[one] for one in get_close_matches(bare_code(tidy_code(code)[:100]), known, n=OFFERED)]
    places = Place.objects.in_bulk(found, field_name="code")
    return [places[one] for one in found]


def lying_at(place: Place) -> QuerySet[Summary]:
    """What lies at a place itself, in code order, with each tool's home."""
    return lying().filter(lies=place.pk).select_related("tool", "home").order_by("tool__code")


def living_elsewhere(place: Place) -> QuerySet[Summary]:
    """What has its home at a place and is not home, with where it is."""
    gone = Summary.objects.filter(away=True, home=place)
    return gone.select_related("tool", "home", "seen_place", "in_mold_of").order_by("tool__code")


def _first_of_each(summaries: QuerySet[Summary]) -> QuerySet[Summary]:
    nth = Window(RowNumber(), partition_by=F("lies"), order_by="tool__code")
    firsts = summaries.annotate(nth=nth).filter(nth__lte=NAMED).select_related("tool")
    columns = ("lies", "home", "seen_at", "tool__code", "tool__kind", "tool__name")
    return firsts.only(*columns).order_by("tool__code")
