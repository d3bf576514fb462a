"""Racks drawn to their shelves and bays: what lies on each, what has its home there and lies elsewhere, its load."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from django.db.models import Count, F, Q, QuerySet, Window
from django.db.models.functions import RowNumber

from shared.natural import natural
from tooling.drawing.rack import longest
from tooling.models import Kind, Picture, Place, PlaceKind, Summary, Tool
from tooling.selectors.loads import Load, at, each, lying, summed
from tooling.selectors.pictures import mains
from tooling.selectors.place_tree import below, in_order

# So many tools are drawn one by one; of more, the first on each shelf, and the others are counted.
WHOLE = 600
NAMED = 8
_OF_TOOL = ("code", "kind", "name", "mass_kg", "length_mm", "width_mm", "height_mm", "as_typed")


@dataclass(frozen=True, slots=True)
class Lies:
    """A tool as it is drawn on a shelf.

    how: here (it was seen), told (nobody saw it yet), unmet (not in the count that goes on), gone (it lies elsewhere).
    """

    summary: Summary
    how: str
    picture: Picture | None = None

    @property
    def tool(self) -> Tool:
        """The tool that it is."""
        return self.summary.tool

    @property
    def high_mm(self):
        """How high it is drawn: a trim mask leans with its width upward."""
        return self.tool.width_mm if self.tool.kind == Kind.TRIM_MASK else self.tool.height_mm


@dataclass(frozen=True, slots=True)
class Shelf:
    """A place as it is drawn: what lies on it, what would, what it carries, and the bays that it is cut into."""

    place: Place
    load: Load = field(default_factory=Load)
    here: tuple[Lies, ...] = ()
    gone: tuple[Lies, ...] = ()
    away: int = 0
    bays: "tuple[Shelf, ...]" = ()

    @property
    def count(self) -> int:
        """Tools that lie on it itself."""
        return self.load.count

    @property
    def more(self) -> int:
        """Tools on it that are not drawn."""
        return self.count - len(self.here)

    @property
    def drawn(self) -> tuple[Lies, ...]:
        """What lies there, and what would."""
        return self.here + self.gone

    @property
    def overloaded(self) -> bool:
        """Whether what is known to lie there and below is more than it may carry."""
        return self.place.max_load_kg is not None and self.load.kg > self.place.max_load_kg


@dataclass(frozen=True)
class RackDrawing:
    """A place (`whole`) that has others in it: these from the top, and itself last where something lies on none."""

    whole: Shelf
    within: Place | None
    shelves: tuple[Shelf, ...]

    @property
    def place(self) -> Place:
        """The place that it is."""
        return self.whole.place

    @property
    def on_floor(self) -> bool:
        """A room: what is in it stands on the floor, and no upright holds it."""
        return self.place.kind in PlaceKind.FLOORS

    @property
    def has_own_row(self) -> bool:
        """Whether the place itself stands among its shelves."""
        return any(shelf.place == self.place for shelf in self.shelves)

    @property
    def is_cut(self) -> bool:
        """Whether any of its shelves is cut into bays."""
        return any(shelf.bays for shelf in self.shelves)

    @cached_property
    def drawn(self) -> list[Lies]:
        """Every tool that is drawn."""
        return [one for shelf in self.shelves for place in (shelf, *shelf.bays) for one in place.drawn]

    @cached_property
    def longest_mm(self) -> float:
        """To what all of it is drawn."""
        return longest(one.tool.length_mm for one in self.drawn)

    @cached_property
    def unsized(self) -> int:
        """Tools that are drawn without their size, since nobody wrote it down."""
        return len({one.summary.pk for one in self.drawn if one.tool.length_mm is None or one.high_mm is None})


def racks(within: Place | None = None, *, met: Collection[int] | None = None) -> list[RackDrawing]:
    """A place and what lies within it (None: all places) as racks, each followed by those within it.

    In as many queries for many tools as for one. met: the keys of the tools that a count has seen, if one goes on: of
    what lies there only these are drawn through.
    """
    return racks_of(shelves(within, met=met))


def shelves(within: Place | None = None, *, met: Collection[int] | None = None) -> list[Shelf]:
    """The same places one by one in the order of the tree, none of them cut into bays."""
    places = Place.objects.all() if within is None else Place.objects.filter(pk__in=below([within.pk]))
    in_tree = in_order(places)
    branch = None if within is None else [place.pk for place, _depth in in_tree]
    own = each(branch)
    carried = summed(in_tree, own)
    some = sum(load.count for load in own.values()) > WHOLE
    there, gone = list(_there(branch, some)), list(_gone(branch, some))
    pictures = mains([one.pk for one in there])
    here = _by_place(there, "lies", pictures, met)
    would = _by_place(gone, "home_id", {})
    away = _away(branch)
    return [
        Shelf(place, carried[place.pk], here.get(place.pk, ()), would.get(place.pk, ()), away.get(place.pk, 0))
        for place, _depth in in_tree
    ]


def as_drawn(places: Sequence[Place]) -> list[RackDrawing]:
    """Places that are not put up yet, as they would stand, with nothing on them."""
    return racks_of([Shelf(place) for place, _depth in in_order(places)])


def racks_of(found: Sequence[Shelf]) -> list[RackDrawing]:
    """The racks that these places make, each followed by those within it; a lonely place is one by itself."""
    by_key = {_key(one.place): one for one in found}
    children: dict[int | str | None, list[Shelf]] = defaultdict(list)
    for one in found:
        children[_above(one.place)].append(one)
    cut = {key: _cut(one, children) for key, one in by_key.items()}
    bays = {_key(bay.place) for one in cut.values() for bay in one.bays}
    made = []
    for key, one in by_key.items():
        within = [child for child in children[key] if _key(child.place) not in bays]
        lonely = _above(one.place) not in by_key and not within
        if not (within or lonely) or key in bays:
            continue
        bare = [cut[_key(child.place)] for child in within if not _holds(child, children, bays)]
        own = [cut[key]] if lonely or one.count or one.away or cut[key].bays else []
        above = by_key.get(_above(one.place))
        made.append(RackDrawing(one, above.place if above else None, (*bare, *own)))
    return made


def _key(place: Place) -> int | str:
    """What tells a place from others, also one that is not stored yet."""
    return place.pk or place.code


def _above(place: Place) -> int | str | None:
    return _key(place.parent) if place.pk is None and place.parent is not None else place.parent_id


def _cut(one: Shelf, children: dict[int | str | None, list[Shelf]]) -> Shelf:
    """A shelf, or whatever is none of a rack's own uprights, with the bays that it is cut into, in their order."""
    if one.place.kind == PlaceKind.RACK:
        return one
    bays = [
        child
        for child in children[_key(one.place)]
        if child.place.kind == PlaceKind.BAY and not children[_key(child.place)]
    ]
    return replace(one, bays=tuple(sorted(bays, key=lambda bay: natural(bay.place.code))))


def _holds(one: Shelf, children: dict[int | str | None, list[Shelf]], bays: set[int | str]) -> bool:
    """Whether it has places in it that are none of its bays: then it is a rack by itself."""
    return any(_key(child.place) not in bays for child in children[_key(one.place)])


def _how(summary: Summary, met: Collection[int] | None) -> str:
    if met is not None:
        return "here" if summary.pk in met else "unmet"
    return "told" if summary.seen_at is None else "here"


def _by_place(
    summaries: Iterable[Summary], column: str, pictures: dict[int, Picture], met: Collection[int] | None = None
) -> dict[int, tuple[Lies, ...]]:
    """What is drawn on each place, by code: C-2 before C-10."""
    found: dict[int, list[Lies]] = defaultdict(list)
    for one in sorted(summaries, key=lambda one: natural(one.tool.code)):
        how = _how(one, met) if column == "lies" else "gone"
        found[getattr(one, column)].append(Lies(one, how, pictures.get(one.pk)))
    return {place: tuple(them) for place, them in found.items()}


def _there(branch: list[int] | None, some: bool) -> QuerySet[Summary]:
    """What lies there."""
    found = _first_of_each(at(lying(), "lies", branch), "lies", some).select_related("tool", "home")
    return found.only("lies", "home__name", "seen_at", *_columns())


def _gone(branch: list[int] | None, some: bool) -> QuerySet[Summary]:
    """What has its home there and lies elsewhere, with where it is."""
    found = _first_of_each(elsewhere(branch), "home", some)
    return found.select_related("tool", "seen_place", "in_mold_of", "home").defer("state")


def elsewhere(branch: list[int] | None) -> QuerySet[Summary]:
    """The tools whose home is in a branch and that are anywhere but at home, in use or not."""
    return at(lying(), "home", branch).filter(Q(lies=None) | ~Q(lies=F("home")))


def _away(branch: list[int] | None) -> dict[int, int]:
    return dict(elsewhere(branch).order_by().values_list("home_id").annotate(n=Count("pk")))


def _first_of_each(summaries: QuerySet[Summary], column: str, some: bool) -> QuerySet[Summary]:
    if not some:
        return summaries
    nth = Window(RowNumber(), partition_by=F(column), order_by="tool__code")
    return summaries.annotate(nth=nth).filter(nth__lte=NAMED)


def _columns() -> list[str]:
    return [f"tool__{name}" for name in _OF_TOOL]
