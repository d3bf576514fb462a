"""Racks, shelves and rooms as a tree: what lies there, and whose home is there and that lies elsewhere."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from itertools import takewhile

from django.db.models import BigIntegerField, Case, Count, F, Q, QuerySet, Sum, Value, When, Window
from django.db.models.functions import RowNumber

from tooling.models import Place, Summary, tidy_code
from tooling.models.fields import plain

# Tools named on each shelf of the tree; more are counted.
NAMED = 8

# Where a tool lies: in a mold, where it was seen last, else at home, where nobody has seen it yet.
_LIES = Case(
    When(in_mold_of__isnull=False, then=Value(None, output_field=BigIntegerField())),
    When(seen_at__isnull=False, then=F("seen_place_id")),
    default=F("home_id"),
    output_field=BigIntegerField(),
)


@dataclass(frozen=True, slots=True)
class Shelf:
    """A place in the tree with what lies on it: the first tools, how many, and what they weigh as far as is known."""

    place: Place
    depth: int
    tools: tuple[Summary, ...] = ()
    count: int = 0
    load_kg: Decimal = Decimal(0)
    unweighed: int = 0
    away: int = 0

    @property
    def more(self) -> int:
        """Tools that are not named."""
        return self.count - len(self.tools)

    @property
    def overloaded(self) -> bool:
        """Whether what is known to lie there is more than it may carry."""
        return self.place.max_load_kg is not None and self.load_kg > self.place.max_load_kg


@dataclass(frozen=True, slots=True)
class Rack:
    """A place that has others in it: these from the top, and itself last where something lies on none of them."""

    place: Place
    within: Place | None
    shelves: list[Shelf]


@dataclass(frozen=True, slots=True)
class PlacePage:
    """One place: what it lies in, from the outside; itself; the racks in it, itself first where it is one."""

    above: list[Place]
    shelf: Shelf
    within: list[Rack]


def lying() -> QuerySet[Summary]:
    """The summaries of all tools that are not retired, with `lies`, the key of the place where each is."""
    return Summary.objects.filter(retired=False).annotate(lies=_LIES)


def racks(shelves: list[Shelf]) -> list[Rack]:
    """The racks that these shelves make, each followed by those within it; a lonely place is one by itself."""
    by_key = {one.place.pk: one for one in shelves}
    children: dict[int | None, list[Shelf]] = {}
    for one in shelves:
        children.setdefault(one.place.parent_id, []).append(one)
    found = []
    for one in shelves:
        below = children.get(one.place.pk, [])
        lonely = one.place.parent_id not in by_key and not below
        if not (below or lonely):
            continue
        bare = [child for child in below if child.place.pk not in children]
        own = [one] if lonely or one.count or one.away else []
        above = by_key.get(one.place.parent_id)
        found.append(Rack(one.place, above.place if above else None, [*bare, *own]))
    return found


def shelves() -> list[Shelf]:
    """All places, each followed by those within it, in four queries."""
    counts = {row["lies"]: row for row in _counts()}
    away = dict(
        lying().exclude(home=None).exclude(lies__isnull=False, lies=F("home_id"))
        .order_by().values_list("home_id").annotate(n=Count("pk"))
    )  # fmt: skip
    named: dict[int, list[Summary]] = {}
    for summary in _first_of_each():
        named.setdefault(summary.lies, []).append(summary)
    return [
        _shelf(place, depth, counts.get(place.pk, {}), tuple(named.get(place.pk, ())), away.get(place.pk, 0))
        for place, depth in _in_order(Place.objects.all())
    ]


def page(code: str) -> PlacePage | None:
    """The page of the place of that code or older code; None where there is none."""
    every = shelves()
    at = {one.place.code: index for index, one in enumerate(every)}.get(tidy_code(code))
    if at is None:
        now = Place.objects.called(code).first()  # by an older code
        return page(now.code) if now is not None else None
    here = every[at]
    inner = list(takewhile(lambda one: one.depth > here.depth, every[at + 1 :]))
    above = _above(here.place, {one.place.pk: one.place for one in every})
    return PlacePage(above, here, racks([here, *inner]) if inner else [])


def lying_at(place: Place) -> QuerySet[Summary]:
    """What lies at a place itself, in code order, with each tool's home."""
    return lying().filter(lies=place.pk).select_related("tool", "home").order_by("tool__code")


def living_elsewhere(place: Place) -> QuerySet[Summary]:
    """What has its home at a place and lies elsewhere, with where."""
    gone = lying().filter(home=place).exclude(lies__isnull=False, lies=place.pk)
    return gone.select_related("tool", "seen_place", "in_mold_of").order_by("tool__code")


def _counts() -> Iterable[dict]:
    known = Count("pk", filter=Q(tool__mass_kg=None))
    rows = lying().exclude(lies=None).order_by().values("lies")
    return rows.annotate(n=Count("pk"), load=Sum("tool__mass_kg"), unweighed=known)


def _first_of_each() -> QuerySet[Summary]:
    nth = Window(RowNumber(), partition_by=_LIES, order_by="tool__code")
    firsts = lying().exclude(lies=None).annotate(nth=nth).filter(nth__lte=NAMED).select_related("tool")
    columns = ("home", "seen_at", "tool__code", "tool__kind", "tool__name")
    return firsts.only(*columns).order_by("tool__code")


def _shelf(place: Place, depth: int, row: dict, tools: tuple[Summary, ...], away: int) -> Shelf:
    load = plain(Decimal(str(row.get("load") or 0)).quantize(Decimal("0.000001")))
    return Shelf(place, depth, tools, row.get("n", 0), load, row.get("unweighed", 0), away)


def _in_order(places: Iterable[Place]) -> list[tuple[Place, int]]:
    """Depth first, children from the top; what would hang in a loop stands at the end, so that nothing is lost."""
    children: dict[int | None, list[Place]] = {}
    for place in sorted(places, key=_from_the_top):
        children.setdefault(place.parent_id, []).append(place)
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


def _above(place: Place, by_key: dict[int, Place]) -> list[Place]:
    found: list[Place] = []
    while place.parent_id is not None and len(found) < len(by_key):
        place = by_key[place.parent_id]
        found.append(place)
    return found[::-1]
