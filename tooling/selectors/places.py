"""Racks, shelves and rooms as a tree: what lies there, what it weighs, and whose home is there that lies elsewhere."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches

from django.db.models import Count, F, Q, QuerySet, Sum, Window
from django.db.models.functions import RowNumber

from tooling.models import Place, Summary, tidy_code
from tooling.models.fields import plain
from tooling.selectors.tools import OFFERED, bare_code

# Tools named on each shelf of the tree; more are counted.
NAMED = 8


@dataclass(frozen=True, slots=True)
class Load:
    """What a place carries as far as masses are known: the tools on it, mold inserts in these, all that lies below."""

    own_kg: Decimal = Decimal(0)
    inserts_kg: Decimal = Decimal(0)
    below_kg: Decimal = Decimal(0)
    unweighed: int = 0

    @property
    def kg(self) -> Decimal:
        """All of it."""
        return self.own_kg + self.inserts_kg + self.below_kg

    @property
    def summed(self) -> bool:
        """Whether it is more than the masses of the tools that lie there."""
        return bool(self.inserts_kg or self.below_kg)

    def with_below(self, below: "Load") -> "Load":
        """The same with what a place within it carries."""
        unweighed = self.unweighed + below.unweighed
        return Load(self.own_kg, self.inserts_kg, self.below_kg + below.kg, unweighed)


@dataclass(frozen=True, slots=True)
class Shelf:
    """A place in the tree with what lies on it: the first tools, how many; what it carries; how many are not home."""

    place: Place
    depth: int
    tools: tuple[Summary, ...] = ()
    count: int = 0
    load: Load = Load()
    away: int = 0

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


def lying() -> QuerySet[Summary]:
    """The summaries of all tools that are not retired; `lies` is the key of the place where each is."""
    return Summary.objects.filter(retired=False)


def below(places: Iterable[int]) -> set[int]:
    """The keys of these places and of all that lie within them."""
    found: set[int] = set()
    inside: dict[int | None, list[int]] = defaultdict(list)
    for place, parent in Place.objects.values_list("pk", "parent_id"):
        inside[parent].append(place)
    todo = list(places)
    while todo:
        if (place := todo.pop()) not in found:
            found.add(place)
            todo += inside[place]
    return found


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
    rows = {row["lies"]: row for row in _counts(_at(lying(), "lies", branch))}
    inserts = {row["in_mold_of__summary__lies"]: row for row in _inserts(branch)}
    gone = _at(Summary.objects.filter(away=True), "home", branch).order_by().values_list("home_id")
    away = dict(gone.annotate(n=Count("pk")))
    named: dict[int, list[Summary]] = {}
    for summary in _first_of_each(_at(lying(), "lies", branch)):
        named.setdefault(summary.lies, []).append(summary)
    loads = _loads(in_tree, rows, inserts)
    return [
        Shelf(
            place, depth, tuple(named.get(place.pk, ())), rows.get(place.pk, {}).get("n", 0), loads[place.pk],
            away.get(place.pk, 0),
        )
        for place, depth in in_tree
    ]  # fmt: skip


def page(code: str) -> PlacePage | None:
    """The page of the place of that code or older code; None where there is none."""
    place = Place.objects.called(code).first()
    if place is None:
        return None
    here, *inner = shelves(place)
    return PlacePage(_above(place), here, racks([here, *inner]) if inner else [])


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


def _at(summaries: QuerySet[Summary], column: str, branch: list[int] | None) -> QuerySet[Summary]:
    """Those whose place is in a branch; None: any place."""
    known = {f"{column}__isnull": False} if branch is None else {f"{column}__in": branch}
    return summaries.filter(**known)


def _counts(summaries: QuerySet[Summary]) -> Iterable[dict]:
    rows = summaries.order_by().values("lies")
    return rows.annotate(n=Count("pk"), kg=Sum("tool__mass_kg"), unweighed=Count("pk", filter=Q(tool__mass_kg=None)))


def _inserts(branch: list[int] | None) -> Iterable[dict]:
    """What the inserts weigh that are in the molds at each place."""
    inside = lying().filter(in_mold_of__isnull=False, in_mold_of__summary__retired=False)
    rows = _at(inside, "in_mold_of__summary__lies", branch).order_by().values("in_mold_of__summary__lies")
    return rows.annotate(kg=Sum("tool__mass_kg"), unweighed=Count("pk", filter=Q(tool__mass_kg=None)))


def _first_of_each(summaries: QuerySet[Summary]) -> QuerySet[Summary]:
    nth = Window(RowNumber(), partition_by=F("lies"), order_by="tool__code")
    firsts = summaries.annotate(nth=nth).filter(nth__lte=NAMED).select_related("tool")
    columns = ("lies", "home", "seen_at", "tool__code", "tool__kind", "tool__name")
    return firsts.only(*columns).order_by("tool__code")


def _loads(in_tree: list[tuple[Place, int]], rows: dict[int, dict], inserts: dict[int, dict]) -> dict[int, Load]:
    """What each place carries, the innermost first: what lies within a place is added up before itself."""
    loads: dict[int, Load] = {}
    within: dict[int | None, Load] = defaultdict(Load)
    for place, _depth in reversed(in_tree):
        own, put_in, lower = rows.get(place.pk, {}), inserts.get(place.pk, {}), within[place.pk]
        unweighed = own.get("unweighed", 0) + put_in.get("unweighed", 0) + lower.unweighed
        loads[place.pk] = Load(_kg(own), _kg(put_in), lower.below_kg, unweighed)
        within[place.parent_id] = within[place.parent_id].with_below(loads[place.pk])
    return loads


def _kg(row: dict) -> Decimal:
    return plain(Decimal(str(row.get("kg") or 0)).quantize(Decimal("0.000001")))


def in_order(places: Iterable[Place]) -> list[tuple[Place, int]]:
    """Depth first, children from the top; what would hang in a loop stands at the end, so that nothing is lost."""
    known = sorted(places, key=_from_the_top)
    keys = {place.pk for place in known}
    children: dict[int | None, list[Place]] = {}
    for place in known:
        children.setdefault(place.parent_id if place.parent_id in keys else None, []).append(place)
    found: list[tuple[Place, int]] = []
    todo = [(place, 0) for place in reversed(children.pop(None, []))]
    while todo:
        place, depth = todo.pop()
        found.append((place, depth))
        todo += [(child, depth + 1) for child in reversed(children.pop(place.pk, []))]
    return found + [(place, 0) for rest in children.values() for place in rest]


def _from_the_top(place: Place) -> tuple[bool, Decimal, str]:
    """The highest first; those of which nobody said how high, by code."""
    return place.height_mm is None, -(place.height_mm or Decimal(0)), place.code


def _above(place: Place) -> list[Place]:
    parents = dict(Place.objects.values_list("pk", "parent_id"))
    chain: list[int] = []
    above = place.parent_id
    while above is not None and above not in chain:
        chain.append(above)
        above = parents[above]
    known = Place.objects.in_bulk(chain)
    return [known[pk] for pk in reversed(chain)]
